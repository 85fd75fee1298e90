import type { Signal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Alarm } from '../../../shared/api-types/alarm.js';
import type { Run } from '../../../shared/api-types/run.js';
import type { ZoneStretch } from '../../../shared/api-types/trace.js';
import { goTo } from '../../shared/current-address.js';
import { dark } from '../../shared/dark.js';
import type { PagedList } from '../../shared/use-paged-list.js';
import { alarmMarks, stretchOfAlarm } from '../marks/alarm-marks.js';
import { marksText } from '../marks/mark-text.js';
import type { MarkSteps } from '../marks/use-mark-steps.js';
import type { RunMark } from '../marks/run-marks.js';
import { runTitle } from '../run-text.js';
import { viewAddress, type Axis, type CursorPlace, type RunView } from '../run-view.js';
import { panelWindows, windowsText, type WindowsNow } from '../windows/use-windows.js';
import { axisTitle } from './axis-scale.js';
import { requestedPart } from './axis-request.js';
import { CompareChoice, useCompared } from './compare-choice.js';
import { judgedAs } from './judged-as.js';
import { MarkStrip, stripLayout } from './mark-strip.js';
import { Panel } from './panel.js';
import { panelWords } from './panel-words.js';
import { followPrinting, printing } from './printing.js';
import { TraceControls, traceKey, type TraceSteps } from './trace-controls.js';
import { CursorSlider, TraceData } from './trace-data.js';
import { TraceKey } from './trace-key.js';
import { furtherMeasures, measures as usualMeasures, type Measure } from './trace-lines.js';
import { judgedStretches, placedAlarms, placedMarks, quantityShownIn, showsIn } from './trace-marks.js';
import { nearestRow, traceTable } from './trace-table.js';
import { endRemOf, remSize } from './type-scale.js';
import { traceHeight, useSize } from './use-size.js';
import './traces.css';
import { useTrace } from './use-trace.js';
import { clamped, zoomed, type Part } from './zoomed.js';

interface TracePanelsProps {
  readonly run: Run;
  readonly view: RunView;
  readonly windows: WindowsNow;
  readonly marks: readonly RunMark[];
  readonly alarms: PagedList<Alarm>;
  readonly steps: MarkSteps;
  readonly cursor: Signal<CursorPlace | null>;
  readonly onZones: (zones: readonly ZoneStretch[]) => void;
}

followPrinting();

/** Stacked traces over one axis, with one cursor through all of them. */
export function TracePanels({ run, view, windows, marks, alarms, steps: markSteps, cursor, onZones }: TracePanelsProps): JSX.Element {
  const say = panelWords();
  const { chosen, said } = markSteps;
  const [place, width, top] = useSize();
  // Two points per pixel keep a mean line smooth; widths are rounded so that a scroll bar causes no new request.
  const points = usePoints(width === 0 ? 0 : Math.min(4000, Math.ceil(width / 250) * 500));
  const { trace, view: drawn, busy, failure } = useTrace(run, view, points);
  const compared = useCompared(run, view, points);
  useEffect(() => { if (trace?.zones !== undefined) onZones(trace.zones); }, [trace]);
  const cools = run.t85 !== null || panelWindows(windows, 't85').length > 0;
  const left = [...marks.flatMap((mark) => (mark.kind === 'excursion' ? [mark.excursion.quantity] : [])), ...(cools ? ['t85'] : [])].join(' ');
  const measures = useMemo<readonly Measure[]>(() => [...usualMeasures, ...furtherMeasures.filter((own) => left.split(' ').includes(own))], [left]);
  // A trace requested for another axis is not drawn over this one.
  const other = compared.trace?.axis === requestedPart(run, drawn).axis ? compared.trace : null;
  const table = useMemo(() => (trace === null ? null : traceTable(trace, measures, other, run.t85)), [trace, measures, other, run.t85]);
  const placed = useMemo(() => placedMarks(marks, drawn.axis), [marks, drawn.axis]);
  const placedOnes = placedAlarms(alarmMarks(run, alarms.items ?? []), drawn.axis);
  const judged = useMemo(() => measures.map((measure) => judgedStretches(placed, measure)), [placed, measures]);
  const severalArcs = run.arcs.length > 1;
  const shownMarks = useMemo(
    () => measures.map((measure) => placed.filter(({ mark }) => showsIn(measure, mark)).map(({ mark, number, from, to }) => {
      const arc = mark.kind === 'excursion' ? (mark.excursion.arc ?? 0) : 0;
      return { kind: mark.kind, name: severalArcs && arc > 0 ? `${mark.code} ${say.arcInText(arc)}` : mark.code, arc, from, to, chosen: number === chosen };
    })),
    [placed, chosen, measures, severalArcs, say],
  );
  const shownAlarms = useMemo(() => measures.map((measure) => placedOnes.filter(({ alarm }) => quantityShownIn(alarm.quantity) === measure)), [alarms.items, drawn.axis, measures]);
  const shownWindows = useMemo(() => measures.map((measure) => panelWindows(windows, measure)), [windows, measures]);
  const places = table?.places ?? [];
  const at = cursor.value?.axis === drawn.axis ? cursor.value.at : null;
  // The cursor stays where it is on the axis when finer data has other rows.
  const row = at === null || places.length === 0 ? null : nearestRow(places, at);
  const wholeEnds = useRef<{ readonly axis: Axis; readonly ends: Part } | null>(null);
  if (drawn.from === null && drawn.to === null && places.length > 0) wholeEnds.current = { axis: drawn.axis, ends: [places[0] ?? 0, places.at(-1) ?? 1] };
  const wholeOf = (axis: Axis): Part => {
    if (axis === 'time' && run.duration !== null) return [0, run.duration];
    if (wholeEnds.current?.axis === axis) return wholeEnds.current.ends;
    const on = placedMarks(marks.filter(({ kind }) => kind === 'zone'), axis);
    return on.length > 0 ? [Math.min(...on.map(({ from }) => from)), Math.max(...on.map(({ to }) => to))] : [places[0] ?? 0, places.at(-1) ?? 1];
  };
  const partOf = ({ axis, from, to }: RunView): Part => {
    const whole = wholeOf(axis);
    const asked: Part = [from ?? whole[0], to ?? whole[1]];
    const [first, last] = clamped(asked, whole) ?? whole;
    return first < last ? [first, last] : [first, first + 1];
  };
  const part = partOf(drawn);
  // Steps continue from the part that was last requested, which may not be drawn yet.
  const whole = view.from === null && view.to === null;
  const asked = partOf(view);
  const show = (own: Part | null): void => {
    const within = own === null ? null : clamped(own, wholeOf(view.axis));
    goTo(viewAddress(run.id, { ...view, from: within?.[0] ?? null, to: within?.[1] ?? null }));
  };
  const setRow = (index: number): void => {
    const found = places[index];
    if (found !== undefined) cursor.value = { axis: drawn.axis, at: found };
  };
  const within = (step: () => void) => (): void => { if (!whole) step(); };
  const steps: TraceSteps = {
    zoomIn: () => { show(zoomed(asked, 0.5, 0, at)); },
    zoomOut: within(() => { show(zoomed(asked, 2, 0, at)); }),
    earlier: within(() => { show(zoomed(asked, 1, -0.5, null)); }),
    later: within(() => { show(zoomed(asked, 1, 0.5, null)); }),
    whole: within(() => { show(null); }),
    previousMark: () => { markSteps.step(-1); },
    nextMark: () => { markSteps.step(1); },
    cursor: (rows) => { setRow(row === null ? 0 : Math.min(places.length - 1, Math.max(0, row + rows))); },
  };
  const end = endRemOf(shownWindows) * remSize();
  const strip = stripLayout({ marks: placed, alarms: placedOnes, places: part, width, end });
  const lanes = 1 + strip.markLanes + (strip.alarms.length > 0 ? 1 : 0);
  const height = traceHeight(top, lanes, usualMeasures.length);
  const sheet = requestedPart(run, { axis: drawn.axis, from: part[0], to: part[1] });
  const csv = `api/runs/${encodeURIComponent(run.id)}/trace?${new URLSearchParams({ format: 'csv', judged: 'true', axis: sheet.axis, points: '20000', ...(whole ? {} : { from: String(sheet.from), to: String(sheet.to) }) }).toString()}`;
  return (
    <section
      id="traces"
      class="traces"
      aria-label={say.traces}
      tabIndex={-1}
      onKeyDown={(event) => { if (traceKey(event, steps)) event.preventDefault(); }}
    >
      <TraceControls axis={view.axis} round={run.circumference !== null} whole={whole} marks={marks.length} busy={busy} steps={steps} onAxis={(axis) => { goTo(viewAddress(run.id, { ...view, axis, from: null, to: null })); }}>
        <CompareChoice
          run={run}
          compared={view.compared}
          shown={compared.run}
          failure={compared.failure}
          onChoose={(chosenRun) => {
            // Runs are compared along the seam, or by their travel if they lie on two seams.
            const axis = chosenRun === null || view.axis !== 'time' ? view.axis : chosenRun.seam === run.seam ? 'seamPosition' : 'travelled';
            goTo(viewAddress(run.id, axis === view.axis ? { ...view, compared: chosenRun?.id ?? null } : { axis, from: null, to: null, compared: chosenRun?.id ?? null }));
          }}
        />
      </TraceControls>
      <p class={said === '' ? 'step-said unseen' : 'step-said stepped'} role="status">{said === '' ? marksText(marks, run.judged) : said}</p>
      {failure !== null && <p class="none" role="status">{failure}</p>}
      {compared.failure !== null && <p class="none" role="status">{say.compareFailed(compared.failure)}</p>}
      {compared.run !== null && <p class="aside">{say.comparing(runTitle(compared.run))} · <a href={viewAddress(compared.run.id, { ...view, compared: run.id })}>{say.openCompared}</a></p>}
      <div ref={place} class="panels" style={{ '--end': `${end}px` }}>
        {table !== null && width > 0 && places.length > 0 && (
          <>
            <MarkStrip layout={strip} chosen={chosen} width={width} onMark={markSteps.go} onAlarm={({ alarm }) => { markSteps.show(stretchOfAlarm(run, alarm)); }} />
            {measures.map((measure, number) => (
              <Panel
                key={measure}
                measure={measure}
                columns={table.columns[number] ?? []}
                at={places}
                judgedAs={judgedAs(windows, measure)}
                darkRows={table.darkRows}
                row={row}
                width={width}
                height={number < usualMeasures.length ? height : Math.round(height * 0.7)}
                end={end}
                dark={dark.value}
                axis={drawn.axis}
                places={part}
                marks={shownMarks[number] ?? []}
                alarms={shownAlarms[number] ?? []}
                windows={shownWindows[number] ?? []}
                judged={judged[number] ?? []}
                labelled={number === measures.length - 1}
                onPart={(from, to) => { show([from, to]); }}
                onWhole={() => { show(null); }}
                onCursor={(own) => { cursor.value = { axis: drawn.axis, at: own }; }}
              />
            ))}
            <p class="axis-name">{axisTitle(drawn.axis)}</p>
            <CursorSlider axis={drawn.axis} places={places} row={row} measures={measures} table={table.columns} onRow={setRow} />
            <p class="aside">{windowsText(windows, run)}</p>
            <TraceKey limits={windows.is === 'known'} judged={table.columns.flat().some(({ kind }) => kind === 'judged')} severalArcs={severalArcs} compared={other !== null} />
            <p class="aside keys">{say.hint()}</p>
            <TraceData axis={drawn.axis} places={places} measures={measures} columns={table.columns} csv={csv} />
          </>
        )}
        {table !== null && places.length === 0 && <p class="none">{say.noRows()}</p>}
        {table === null && failure === null && <p class="none">{say.asking}</p>}
      </div>
    </section>
  );
}

/** While the page is laid out for paper, the number of points that was last requested: there is no time to request others. */
function usePoints(points: number): number {
  const asked = useRef(points);
  if (!printing.value) asked.current = points;
  return asked.current;
}
