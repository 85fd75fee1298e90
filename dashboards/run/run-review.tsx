import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import type { ZoneStretch } from '../../shared/api-types/trace.js';
import { wordsOf } from '../shared/words.js';
import { RunAlarmRow } from './alarms/run-alarms.js';
import { AssignmentList } from './assignment-list.js';
import { PreparationList } from './preparation-list.js';
import { ArcTable } from './figures/arc-table.js';
import { FigureDialog } from './figures/figure-dialog.js';
import { FigureTable } from './figures/figure-table.js';
import { figureWords } from './figures/figure-words.js';
import { runFigureGroups } from './figures/run-figure-list.js';
import { Findings } from './findings.js';
import { KeyFigures } from './key-figures.js';
import { MarkList } from './marks/mark-list.js';
import { runMarks } from './marks/run-marks.js';
import { useExcursions } from './marks/use-excursions.js';
import { useMarkSteps } from './marks/use-mark-steps.js';
import { TracePanels } from './panels/trace-panels.js';
import { RecordFacts } from './record-facts.js';
import type { CursorPlace, RunView } from './run-view.js';
import { arcOffsets, useWindows } from './windows/use-windows.js';

/** All that is known of a run; steps through its marks go through traces and list alike. */
export function RunReview({ run, view, stale }: { readonly run: Run; readonly view: RunView; readonly stale: boolean }): JSX.Element {
  const say = wordsOf(figureWords);
  const windows = useWindows(run);
  const excursions = useExcursions(run);
  const zones = useSignal<readonly ZoneStretch[]>([]);
  const cursor = useSignal<CursorPlace | null>(null);
  const marks = useMemo(
    () => runMarks({ run, zones: zones.value, excursions: excursions.items ?? [], offsets: arcOffsets(windows) }),
    [zones.value, excursions.items, windows, run.version, run.restarts.length, run.dataGaps.length, run.dataGaps.at(-1)?.toTime],
  );
  const steps = useMarkSteps(run, view, marks, cursor);
  const toTraces = (show: () => void): void => {
    show();
    const traces = document.getElementById('traces');
    traces?.scrollIntoView({ block: 'start' });
    traces?.focus({ preventScroll: true });
  };
  const goTo = (number: number): void => { toTraces(() => { steps.go(number); }); };
  return (
    <>
      <Findings run={run} windows={windows} marks={marks} onMark={goTo} />
      <KeyFigures run={run} stale={stale} />
      <RunAlarmRow run={run} onShow={(stretch) => { toTraces(() => { steps.show(stretch); }); }} />
      <TracePanels
        run={run}
        view={view}
        windows={windows}
        marks={marks}
        chosen={steps.chosen}
        said={steps.said}
        cursor={cursor}
        onZones={(own) => { if (JSON.stringify(own) !== JSON.stringify(zones.peek())) zones.value = own; }}
        onMark={steps.go}
        onStep={steps.step}
      />
      <MarkList run={run} marks={marks} chosen={steps.chosen} excursions={excursions} windows={windows} onMark={goTo} />
      <div class="details">
        <section>
          <p class="aside">{say.hint}</p>
          {runFigureGroups(run).map(({ heading, figures }, at) => (
            <div key={heading}>
              {at === 0 ? <h2>{heading}</h2> : <h3>{heading}</h3>}
              <FigureTable figures={figures} />
            </div>
          ))}
        </section>
        <ArcTable run={run} />
        <AssignmentList run={run} />
        <PreparationList run={run} />
        <RecordFacts run={run} />
      </div>
      <FigureDialog run={run} />
    </>
  );
}
