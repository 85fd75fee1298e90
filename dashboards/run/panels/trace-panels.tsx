import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import type { Run } from '../../../shared/api-types/run.js';
import { goTo } from '../../shared/current-address.js';
import { dark } from '../../shared/dark.js';
import type { RunView } from '../run-view.js';
import { viewAddress } from '../run-view.js';
import { alignLines, jointPlaces } from './align-lines.js';
import { axisNames } from './axis-words.js';
import { CursorSlider } from './cursor-slider.js';
import { Panel } from './panel.js';
import { TraceControls } from './trace-controls.js';
import { measures, traceLines } from './trace-lines.js';
import { traceMarks } from './trace-marks.js';
import { useTrace } from './use-trace.js';
import { useWidth } from './use-width.js';

/** Stacked traces over one axis, with one cursor through all of them. */
export function TracePanels({ run, view }: { readonly run: Run; readonly view: RunView }): JSX.Element {
  const [place, width] = useWidth();
  // Two points for a pixel keep a mean line smooth; widths are rounded so that a scroll bar asks for nothing new.
  const points = width === 0 ? 0 : Math.min(4000, Math.ceil(width / 250) * 500);
  const { trace, view: drawn, busy, failure } = useTrace(run, view, points);
  const cursor = useSignal<number | null>(null);
  // A place on one axis means nothing on another.
  useEffect(() => {
    cursor.value = null;
  }, [view.axis]);
  const marks = useMemo(() => traceMarks(run, drawn.axis), [run.dataGaps.length, run.restarts.length, drawn.axis, run.version]);
  const table = useMemo(() => {
    if (trace === null) return null;
    const lines = measures.map((measure) => traceLines(trace, measure));
    const places = jointPlaces(lines.flat());
    return { places, columns: lines.map((own) => alignLines(own, places)) };
  }, [trace]);
  const places = table?.places ?? [];
  const show = (from: number | null, to: number | null): void => {
    goTo(viewAddress(run.id, { ...view, from, to }));
  };
  // The cursor stays where it is on the axis when finer data has other rows.
  const row = cursor.value === null || places.length === 0 ? null : nearest(places, cursor.value);
  const ends = [drawn.from ?? places[0] ?? 0, drawn.to ?? places.at(-1) ?? 1] as const;
  return (
    <section id="traces" class="traces" aria-label="Traces" tabIndex={-1}>
      <TraceControls run={run} view={view} ends={ends} cursor={cursor.value} busy={busy} />
      {failure !== null && <p class="none" role="status">{failure}</p>}
      <div ref={place} class="panels">
        {table !== null && width > 0 && places.length > 0 && (
          <>
            {measures.map((measure, at) => (
              <Panel
                key={measure}
                measure={measure}
                columns={table.columns[at] ?? []}
                at={places}
                row={row}
                width={width}
                dark={dark.value}
                axis={drawn.axis}
                places={ends[0] < ends[1] ? ends : [ends[0], ends[0] + 1]}
                marks={marks}
                labelled={at === measures.length - 1}
                onPart={show}
                onWhole={() => { show(null, null); }}
                onCursor={(index) => { cursor.value = places[index] ?? null; }}
              />
            ))}
            <p class="axis-name">{axisNames[drawn.axis]}</p>
            <CursorSlider axis={drawn.axis} places={places} row={row} table={table.columns} onRow={(index) => { cursor.value = places[index] ?? null; }} />
            <p class="aside">Drag across a trace to see that part more finely; a double click shows the whole run. Shaded: least to greatest value behind the line.</p>
          </>
        )}
        {table !== null && places.length === 0 && <p class="none">There are no rows in this part of the run.</p>}
        {table === null && failure === null && <p class="none">Asking the service for the traces …</p>}
      </div>
    </section>
  );
}

function nearest(places: readonly number[], at: number): number {
  let low = 0;
  let high = places.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((places[middle] ?? 0) <= at) low = middle;
    else high = middle;
  }
  return Math.abs((places[high] ?? 0) - at) < Math.abs((places[low] ?? 0) - at) ? high : low;
}
