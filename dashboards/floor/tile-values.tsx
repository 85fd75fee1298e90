import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { digitsOf, shown } from '../shared/units.js';
import type { TileKind } from './floor-layout.js';

/** The newest values, whatever else is to be said: current and voltage of each arc, travel speed, heat input. With the arc off they are the last ones. */
export function TileValues({ carriage, verdict, kind }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly kind: TileKind }): JSX.Element | null {
  const { arcs, travelSpeed, localHeatInput, heatInput } = carriage;
  const heat = localHeatInput ?? heatInput;
  const values = [
    ...arcs.flatMap(({ current, voltage }) => [current === null ? null : shown('current', current), voltage === null ? null : shown('voltage', voltage)]),
    travelSpeed === null ? null : kind === 'full' ? shown('travelSpeed', travelSpeed) : `v\u00a0${digitsOf('travelSpeed', travelSpeed)}`,
    heat === null ? null : shown('heatInput', heat),
  ].filter((text) => text !== null);
  if (values.length === 0) return null;
  const old = verdict.verdict === 'lost' || verdict.state.stale;
  return (
    <p class={carriage.welding ? 'tile-values' : 'tile-values tile-values-last'}>
      {values.map((text, at) => (
        <span key={at}>{old ? <s>{text}</s> : text}</span>
      ))}
    </p>
  );
}
