import type { Measure } from '../panels/trace-lines.js';
import type { WindowsNow } from './use-windows.js';

/** A window as it is drawn: of one arc, or of the carriage (0); either end may be open. */
export interface PanelWindow {
  readonly arc: number;
  readonly min: number | null;
  readonly max: number | null;
}

/** The windows of one trace. */
export function panelWindows(windows: WindowsNow, measure: Measure): PanelWindow[] {
  if (windows.is !== 'known') return [];
  const { group } = windows;
  const drawn = (arc: number, own: { readonly min?: number | undefined; readonly max?: number | undefined } | undefined): PanelWindow[] =>
    own === undefined ? [] : [{ arc, min: own.min ?? null, max: own.max ?? null }];
  if (measure === 'travelSpeed' || measure === 'heatInput') return drawn(0, group[measure]);
  return (group.arcs ?? []).flatMap((arc) => drawn(arc.arc, arc[measure]));
}
