import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { writeAddress } from '../shared/address.js';
import { carriageNow } from '../shared/carriages-now.js';
import { clockWords } from '../shared/clock-words.js';
import { Mark } from '../shared/mark.js';
import { runSilence } from '../shared/run-silence.js';
import { Simulated } from '../shared/simulated.js';
import { formatClock, formatDateTime, formatZone } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { runStateNow } from './run-state.js';
import { runTitle } from './run-title.js';
import { runWords } from './run-words.js';

/** What run it is, what it does now, when and from where it came; seam and carriage lead on. */
export function RunHeading({ run, givenAt }: { readonly run: Run; readonly givenAt: number }): JSX.Element {
  const say = wordsOf(runWords);
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
  const say = wordsOf(runWords);
  const begun = formatDateTime(run.startedAt);
  const zone = formatZone(run.startedAt);
  return run.endedAt === null ? say.untilNow(begun, zone) : say.until(begun, sameDay(begun, run.endedAt), zone);
}

function sameDay(begun: string, end: string): string {
  const whole = formatDateTime(end);
  return whole.slice(0, 10) === begun.slice(0, 10) ? formatClock(end) : whole;
}
