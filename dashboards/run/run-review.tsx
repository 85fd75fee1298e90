import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import type { ZoneStretch } from '../../shared/api-types/trace.js';
import { language, unitSystem } from '../shared/choices.js';
import { DensitySection } from './density/density-section.js';
import { RunAlarmRow, useRunAlarms } from './alarms/run-alarms.js';
import { PreparationList } from './preparation-list.js';
import { FigureDialog } from './figures/figure-dialog.js';
import { ArcTable, FigureTable } from './figures/figure-table.js';
import { MissingList } from './figures/missing-list.js';
import { figureWords } from './figures/figure-words.js';
import { runFigureGroups } from './figures/run-figure-list.js';
import { Findings } from './findings.js';
import { KeyFigures } from './key-figures.js';
import { explainMarks } from './marks/explain-marks.js';
import { MarkList } from './marks/mark-list.js';
import { runMarks } from './marks/run-marks.js';
import { useExcursions } from './marks/use-excursions.js';
import { useMarkSteps } from './marks/use-mark-steps.js';
import { TracePanels } from './panels/trace-panels.js';
import { RecordFacts } from './record-facts.js';
import { RunJob } from './run-job.js';
import { originText } from './run-text.js';
import { jumpTo, RunTools } from './run-tools.js';
import { runWords } from './run-words.js';
import { TemperatureList } from './temperature-list.js';
import type { CursorPlace, RunView } from './run-view.js';
import { arcOffsets, useWindows } from './windows/use-windows.js';

interface RunReviewProps {
  readonly run: Run;
  readonly view: RunView;
  readonly stale: boolean;
  readonly onRun: (run: Run) => void;
}

/** All that is known about a run. Stepping through its events moves both the traces and the list. */
export function RunReview({ run, view, stale, onRun }: RunReviewProps): JSX.Element {
  const say = figureWords();
  const windows = useWindows(run);
  const excursions = useExcursions(run);
  const alarms = useRunAlarms(run.id);
  const zones = useSignal<readonly ZoneStretch[]>([]);
  const cursor = useSignal<CursorPlace | null>(null);
  const marks = useMemo(
    () => explainMarks(runMarks({ run, zones: zones.value, excursions: excursions.items ?? [], offsets: arcOffsets(windows) }), run, windows),
    [zones.value, excursions.items, windows, run.version, run.restarts.length, run.dataGaps.length, run.dataGaps.at(-1)?.toTime, language.value, unitSystem.value],
  );
  const steps = useMarkSteps(run, view, marks, cursor);
  const toTraces = (show: () => void): void => {
    show();
    jumpTo('traces');
  };
  const goTo = (number: number): void => { toTraces(() => { steps.go(number); }); };
  return (
    <>
      <Findings run={run} marks={marks} onMark={goTo} />
      <KeyFigures run={run} stale={stale} />
      <div class="run-line">
        <p class="aside origin">{runWords().origin}: {originText(run)}</p>
        <RunAlarmRow run={run} alarms={alarms} onShow={(stretch) => { toTraces(() => { steps.show(stretch); }); }} />
        <RunTools id={run.id} />
      </div>
      <TracePanels
        run={run}
        view={view}
        windows={windows}
        marks={marks}
        alarms={alarms}
        steps={steps}
        cursor={cursor}
        onZones={(own) => { if (JSON.stringify(own) !== JSON.stringify(zones.peek())) zones.value = own; }}
      />
      <MarkList run={run} marks={marks} chosen={steps.chosen} excursions={excursions} windows={windows} onMark={goTo} />
      <p class="aside figures-hint" id="figures" tabIndex={-1}>{say.hint}</p>
      <div class="details">
        <div class="column">
          {runFigureGroups(run).map(({ heading, figures }) => (
            <section key={heading}><h2>{heading}</h2><FigureTable figures={figures} /></section>
          ))}
        </div>
        <div class="column"><ArcTable run={run} /><MissingList run={run} /><DensitySection run={run} /></div>
        <div class="columns">
          <div class="column"><RunJob run={run} onRun={onRun} /><PreparationList run={run} /><TemperatureList run={run} /></div>
          <div class="column"><RecordFacts run={run} /></div>
        </div>
      </div>
      <FigureDialog run={run} />
    </>
  );
}
