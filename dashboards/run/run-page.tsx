import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { writeAddress } from '../shared/address.js';
import { fetchRun } from '../shared/api.js';
import { carriageNow } from '../shared/carriages-now.js';
import { clockWords } from '../shared/carriage-warnings.js';
import { NotRead } from '../shared/list-parts.js';
import { onRun } from '../shared/live-feed.js';
import { Mark } from '../shared/mark.js';
import { runSilence } from '../shared/run-silence.js';
import { Simulated } from '../shared/simulated.js';
import { formatClock, formatDateTime, formatZone } from '../shared/times.js';
import { useAnswer, type AnswerNow } from '../shared/use-answer.js';
import { usePageTitle } from '../shared/use-page-title.js';
import './details.css';
import './print.css';
import './run.css';
import { RunReview } from './run-review.js';
import { runStateNow, runTitle } from './run-text.js';
import { readView } from './run-view.js';
import { runWords } from './run-words.js';

/** One run: what it came to, how it went, and what is not known of it. */
export function RunPage({ id, query }: { readonly id: string; readonly query: URLSearchParams }): JSX.Element {
  const say = runWords();
  const answer = useRun(id);
  const { value: run, givenAt, change } = answer;
  const round = run === null || run.circumference !== null;
  const view = useMemo(() => readView(query, round), [query, round]);
  usePageTitle(run === null ? say.runLabel() : runTitle(run));
  const silence = run === null ? null : runSilence(run);
  if (run === null) return <NoRun of={answer} />;
  return (
    <>
      <RunHeading run={run} givenAt={givenAt} />
      <RunReview run={run} view={view} stale={silence !== null} onRun={(changed) => { change(() => changed); }} />
    </>
  );
}

function NoRun({ of }: { readonly of: AnswerNow<Run> }): JSX.Element {
  const say = runWords();
  const unknown = of.failure?.status === 404;
  return (
    <section class="empty">
      <h1 tabIndex={-1}>{unknown ? say.noSuchRun() : say.runLabel()}</h1>
      {unknown && <p>{say.noSuchRunMore()}</p>}
      {of.failure === null && <p>{say.loading}</p>}
      {!unknown && <NotRead of={of} />}
      <p><a href="#/runs">{say.seeAll()}</a></p>
    </section>
  );
}

/** One run, followed by the live feed. */
function useRun(id: string): AnswerNow<Run> {
  const answer = useAnswer(async (signal) => await fetchRun(id, signal), [id]);
  useEffect(() => onRun((run) => { if (run.id === id) answer.change(() => run); }), [id]);
  return answer;
}

/** What run it is, what it does now, when and from where it came; seam and carriage lead on. */
function RunHeading({ run, givenAt }: { readonly run: Run; readonly givenAt: number }): JSX.Element {
  const say = runWords();
  const silence = runSilence(run);
  const state = runStateNow(run);
  const clock = clockNow(run);
  return (
    <div class="heading run-heading">
      <h1 tabIndex={-1}>{runTitle(run)}</h1>
      {run.simulated && <Simulated />}
      <p class="aside">
        <span title={state.is === 'notClosed' ? say.notClosedMore() : undefined}><Mark name={state.mark} /> {state.word}</span>{' '}
        · <a href={writeAddress(['station', run.site, run.carriage])} aria-label={say.stationOf(run.carriage)}>{run.carriage}</a>, {run.site} · {spanText(run)}
        {run.seam !== null && <> · <a href={writeAddress(['seam', run.seam])}>{say.seamRuns()}</a></>}
      </p>
      {silence !== null && <p class="silence"><Mark name={silence.mark} /> {silence.words}</p>}
      {clock !== null && <p class="silence"><Mark name="warning" /> {clock}</p>}
      <p class="aside as-of">{say.updated(formatClock(givenAt))}</p>
    </div>
  );
}

/** How wrong the clock is that gave the run its times; this is known only for a carriage's newest run. */
function clockNow({ id, site, carriage }: Run): string | null {
  const own = carriageNow(`${site}/${carriage}`);
  return own === undefined || (own.run ?? own.lastRun) !== id ? null : clockWords(own);
}

function spanText(run: Run): string {
  const say = runWords();
  const begun = formatDateTime(run.startedAt);
  const zone = formatZone(run.startedAt);
  return run.endedAt === null ? say.untilNow(begun, zone) : say.until(begun, sameDay(begun, run.endedAt), zone);
}

function sameDay(begun: string, end: string): string {
  const whole = formatDateTime(end);
  return whole.slice(0, 10) === begun.slice(0, 10) ? formatClock(end) : whole;
}
