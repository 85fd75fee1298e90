import type { Signal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Run } from '../../../shared/api-types/run.js';
import type { ZoneStretch } from '../../../shared/api-types/trace.js';
import { goTo } from '../../shared/current-address.js';
import { dark } from '../../shared/dark.js';
import { wordsOf } from '../../shared/words.js';
import { marksText } from '../marks/mark-text.js';
import type { RunMark } from '../marks/run-marks.js';
import type { Axis, CursorPlace, RunView } from '../run-view.js';
import { viewAddress } from '../run-view.js';
import { panelWindows } from '../windows/panel-windows.js';
import type { WindowsNow } from '../windows/use-windows.js';
import { windowsText } from '../windows/window-text.js';
import { axisTitle } from './axis-scale.js';
import { CursorSlider } from './cursor-slider.js';
import { MarkStrip } from './mark-strip.js';
import { Panel } from './panel.js';
import { panelWords } from './panel-words.js';
import { TraceControls } from './trace-controls.js';
import { measures } from './trace-lines.js';
import { judgedStretches, placedMarks, showsIn } from './trace-marks.js';
import { traceKey } from './trace-steps.js';
import type { TraceSteps } from './trace-steps.js';
import { nearestRow, traceTable } from './trace-table.js';
import { useSize } from './use-size.js';
import './traces.css';
import { useTrace } from './use-trace.js';
import { zoomed } from './zoomed.js';

interface TracePanelsProps {
  readonly run: Run;
  readonly view: RunView;
  readonly windows: WindowsNow;
  readonly marks: readonly RunMark[];
  readonly chosen: number | null;
  /** What a step has led to. */
  readonly said: string;
  readonly cursor: Signal<CursorPlace | null>;
  readonly onZones: (zones: readonly ZoneStretch[]) => void;
  readonly onMark: (number: number) => void;
  readonly onStep: (way: 1 | -1) => void;
}

/** Stacked traces over one axis, with one cursor through all of them. */
export function TracePanels({ run, view, windows, marks, chosen, said, cursor, onZones, onMark, onStep }: TracePanelsProps): JSX.Element {
  const say = wordsOf(panelWords);
  const [place, width, height] = useSize();
  // Two points for a pixel keep a mean line smooth; widths are rounded so that a scroll bar asks for nothing new.
  const points = width === 0 ? 0 : Math.min(4000, Math.ceil(width / 250) * 500);
  const { trace, view: drawn, busy, failure } = useTrace(run, view, points);
  useEffect(() => {
    if (trace?.zones !== undefined) onZones(trace.zones);
  }, [trace]);
  const table = useMemo(() => (trace === null ? null : traceTable(trace)), [trace]);
  const placed = useMemo(() => placedMarks(marks, drawn.axis), [marks, drawn.axis]);
  const judged = useMemo(() => judgedStretches(placed), [placed]);
  const shownMarks = useMemo(
    () => measures.map((measure) => placed.filter(({ mark }) => showsIn(measure, mark)).map(({ mark, number, from, to }) => ({ kind: mark.kind, code: mark.code, from, to, chosen: number === chosen }))),
    [placed, chosen],
  );
  const shownWindows = useMemo(() => measures.map((measure) => panelWindows(windows, measure)), [windows]);
  const places = table?.places ?? [];
  const at = cursor.value?.axis === drawn.axis ? cursor.value.at : null;
  // The cursor stays where it is on the axis when finer data has other rows.
  const row = at === null || places.length === 0 ? null : nearestRow(places, at);
  const ends = [drawn.from ?? places[0] ?? 0, drawn.to ?? places.at(-1) ?? 1] as const;
  const part = ends[0] < ends[1] ? ends : ([ends[0], ends[0] + 1] as const);
  // Steps go on from what was asked for last, which may not be drawn yet.
  const whole = view.from === null && view.to === null;
  const wholeEnds = useRef<{ readonly axis: Axis; readonly ends: readonly [number, number] } | null>(null);
  if (drawn.from === null && drawn.to === null && places.length > 0) wholeEnds.current = { axis: drawn.axis, ends: part };
  const open = wholeEnds.current?.axis === view.axis ? wholeEnds.current.ends : view.axis === 'time' ? ([0, run.duration ?? part[1]] as const) : part;
  const asked = [view.from ?? open[0], view.to ?? open[1]] as const;
  const show = (own: readonly [number, number] | null): void => {
    goTo(viewAddress(run.id, { ...view, from: own?.[0] ?? null, to: own?.[1] ?? null }));
  };
  const setRow = (index: number): void => {
    const found = places[index];
    if (found !== undefined) cursor.value = { axis: drawn.axis, at: found };
  };
  const within = (step: () => void) => (): void => {
    if (!whole) step();
  };
  const steps: TraceSteps = {
    zoomIn: () => { show(zoomed(asked, 0.5, 0, at)); },
    zoomOut: within(() => { show(zoomed(asked, 2, 0, at)); }),
    earlier: within(() => { show(zoomed(asked, 1, -0.5, null)); }),
    later: within(() => { show(zoomed(asked, 1, 0.5, null)); }),
    whole: within(() => { show(null); }),
    previousMark: () => { onStep(-1); },
    nextMark: () => { onStep(1); },
    cursor: (rows) => { setRow(row === null ? 0 : Math.min(places.length - 1, Math.max(0, row + rows))); },
  };
  return (
    <section
      id="traces"
      class="traces"
      aria-label={say.traces}
      tabIndex={-1}
      onKeyDown={(event) => {
        if (traceKey(event, steps)) event.preventDefault();
      }}
    >
      <TraceControls axis={view.axis} whole={whole} marks={marks.length} busy={busy} steps={steps} onAxis={(axis) => { goTo(viewAddress(run.id, { axis, from: null, to: null })); }} />
      <p class={said === '' ? 'step-said' : 'step-said stepped'} role="status">{said === '' ? marksText(marks) : said}</p>
      {failure !== null && <p class="none" role="status">{failure}</p>}
      <div ref={place} class="panels">
        {table !== null && width > 0 && places.length > 0 && (
          <>
            <MarkStrip marks={placed} chosen={chosen} places={part} width={width} onMark={onMark} />
            {measures.map((measure, number) => (
              <Panel
                key={measure}
                measure={measure}
                columns={table.columns[number] ?? []}
                at={places}
                darkRows={table.darkRows}
                row={row}
                width={width}
                height={height}
                dark={dark.value}
                axis={drawn.axis}
                places={part}
                marks={shownMarks[number] ?? []}
                windows={shownWindows[number] ?? []}
                judged={judged}
                labelled={number === measures.length - 1}
                onPart={(from, to) => { show([from, to]); }}
                onWhole={() => { show(null); }}
                onCursor={(place) => { cursor.value = { axis: drawn.axis, at: place }; }}
              />
            ))}
            <p class="axis-name">{axisTitle(drawn.axis)}</p>
            <CursorSlider axis={drawn.axis} places={places} row={row} table={table.columns} onRow={setRow} />
            <p class="aside">{windowsText(windows, run)} · {say.legend}</p>
            <p class="aside">{say.hint()}</p>
          </>
        )}
        {table !== null && places.length === 0 && <p class="none">{say.noRows()}</p>}
        {table === null && failure === null && <p class="none">{say.asking}</p>}
      </div>
    </section>
  );
}
