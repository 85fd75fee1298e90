import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { language, unitSystem } from '../shared/choices.js';
import { Mark } from '../shared/mark.js';
import { runSilence } from '../shared/run-silence.js';
import { Simulated } from '../shared/simulated.js';
import { formatClock, formatDateTime, formatZone } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import './details.css';
import './run.css';
import { RunReview } from './run-review.js';
import { runTitle } from './run-title.js';
import { readView } from './run-view.js';
import { runWords } from './run-words.js';
import { useRun } from './use-run.js';

/** One run: what it came to, how it went, and what is not known of it. */
export function RunPage({ id, query }: { readonly id: string; readonly query: URLSearchParams }): JSX.Element {
  const say = wordsOf(runWords);
  const { run, givenAt, failure } = useRun(id);
  const view = useMemo(() => readView(query), [query]);
  useEffect(() => {
    document.title = `${run === null ? say.aRun() : runTitle(run)} · Seamwarden`;
  }, [run, language.value, unitSystem.value]);
  const silence = run === null ? null : runSilence(run);
  if (run === null) return <NoRun reason={failure?.reason ?? null} unknown={failure?.status === 404} />;
  return (
    <>
      <div class="heading run-heading">
        <h1 tabIndex={-1}>{runTitle(run)}</h1>
        {run.simulated && <Simulated />}
        <p class="aside">
          <Mark name={run.state === 'welding' ? 'full' : 'square'} /> {say[run.state]} · {run.carriage}, {run.site} · {spanText(run)}
        </p>
        {silence !== null && (
          <p class="silence">
            <Mark name={silence.mark} /> {silence.words}
          </p>
        )}
        <p class="aside as-of">{say.asOf(formatClock(givenAt))}</p>
      </div>
      <RunReview run={run} view={view} stale={silence !== null} />
    </>
  );
}

function spanText(run: Run): string {
  const say = wordsOf(runWords);
  const begun = formatDateTime(run.startedAt);
  const zone = formatZone(run.startedAt);
  return run.endedAt === null ? say.untilNow(begun, zone) : say.until(begun, sameDay(begun, run.endedAt), zone);
}

function sameDay(begun: string, end: string): string {
  const whole = formatDateTime(end);
  return whole.slice(0, 10) === begun.slice(0, 10) ? formatClock(end) : whole;
}

function NoRun({ reason, unknown }: { readonly reason: string | null; readonly unknown: boolean }): JSX.Element {
  const say = wordsOf(runWords);
  return (
    <section class="empty">
      <h1 tabIndex={-1}>{unknown ? say.noSuchRun() : say.aRun()}</h1>
      <p>{unknown ? say.noSuchRunMore() : (reason ?? say.asking)}</p>
      <p>
        <a href="#/runs">{say.seeAll()}</a>
      </p>
    </section>
  );
}
