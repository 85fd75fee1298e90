import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { Mark } from '../shared/mark.js';
import { runSilence } from '../shared/run-silence.js';
import { Simulated } from '../shared/simulated.js';
import { formatClock, formatDateTime, formatZone } from '../shared/times.js';
import { ArcFigures } from './arc-figures.js';
import { AssignmentList } from './assignment-list.js';
import { DataGaps } from './data-gaps.js';
import { Excursions } from './excursions.js';
import { KeyFigures } from './key-figures.js';
import { Origin } from './origin.js';
import { Restarts } from './restarts.js';
import { RunFigures } from './run-figures.js';
import { readView } from './run-view.js';
import { flagText, runTitle } from './run-words.js';
import './details.css';
import './run.css';
import { TracePanels } from './panels/trace-panels.js';
import { useRun } from './use-run.js';

/** One run: what it came to, how it went, and what is not known of it. */
export function RunPage({ id, query }: { readonly id: string; readonly query: URLSearchParams }): JSX.Element {
  const { run, givenAt, failure } = useRun(id);
  const view = useMemo(() => readView(query), [query]);
  useEffect(() => {
    document.title = `${run === null ? 'Run' : runTitle(run)} · Seamwarden`;
  }, [run]);
  const silence = run === null ? null : runSilence(run);
  if (run === null) return <NoRun reason={failure?.reason ?? null} unknown={failure?.status === 404} />;
  return (
    <>
      <div class="heading run-heading">
        <h1 tabIndex={-1}>{runTitle(run)}</h1>
        {run.simulated && <Simulated />}
        <p class="aside">
          <Mark name={run.state === 'welding' ? 'full' : 'square'} /> {run.state} · {run.carriage}, {run.site} · {spanWords(run)}
        </p>
        {silence !== null && (
          <p class="silence">
            <Mark name={silence.mark} /> {silence.words}
          </p>
        )}
        <p class="aside as-of">As the service gave it at {formatClock(givenAt)}</p>
      </div>
      {run.flags.length > 0 && (
        <p class="flags">
          <Mark name="warning" /> To be known of this run: {run.flags.map(flagText).join('; ')}.
        </p>
      )}
      <KeyFigures run={run} stale={silence !== null} />
      <TracePanels run={run} view={view} />
      <div class="details">
        <RunFigures run={run} />
        <ArcFigures run={run} />
        <Excursions run={run} />
        <Restarts run={run} />
        <DataGaps run={run} />
        <AssignmentList run={run} />
        <Origin run={run} />
      </div>
    </>
  );
}

function spanWords(run: Run): string {
  const begun = formatDateTime(run.startedAt);
  const end = run.endedAt === null ? 'until now' : `to ${sameDay(begun, run.endedAt)}`;
  return `${begun} ${end} (${formatZone(run.startedAt)})`;
}

function sameDay(begun: string, end: string): string {
  const whole = formatDateTime(end);
  return whole.slice(0, 10) === begun.slice(0, 10) ? formatClock(end) : whole;
}

function NoRun({ reason, unknown }: { readonly reason: string | null; readonly unknown: boolean }): JSX.Element {
  return (
    <section class="empty">
      <h1 tabIndex={-1}>{unknown ? 'There is no such run' : 'Run'}</h1>
      <p>{reason ?? 'Asking the service …'}</p>
      <p>
        <a href="#/runs">See all runs</a>
      </p>
    </section>
  );
}
