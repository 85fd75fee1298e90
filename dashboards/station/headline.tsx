import type { JSX } from 'preact';
import { quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { isWrong } from '../shared/carriage-verdict.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { carriageWarnings } from '../shared/carriage-warnings.js';
import { howFarOut } from '../shared/how-far-out.js';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { Mark } from '../shared/mark.js';
import { runEnd } from '../shared/outlook.js';
import { seamAndRun } from '../shared/run-word.js';
import { formatAge, formatHour } from '../shared/times.js';
import { shown } from '../shared/units.js';
import { verdictText } from '../shared/verdict-text.js';
import { verdictWords } from '../shared/verdict-words.js';
import { wordsOf } from '../shared/words.js';
import { stationWords } from './station-words.js';
import { useOutsideNow } from './use-outside-now.js';

/** "In range · 2430 mm to go · ends 14:37", and below it what is on its way to trouble. */
export function Headline({ carriage, verdict }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict }): JSX.Element {
  const say = wordsOf(stationWords);
  const outsideNow = useOutsideNow(carriage);
  const early = verdict.verdict === 'inside' && outsideNow;
  const kind = isWrong(verdict.verdict) || verdict.verdict === 'lost' ? 'headline headline-trouble' : 'headline';
  const missing = carriage.preparation?.missing.length ?? 0;
  const warnings = [...carriageWarnings(carriage), ...(carriage.welding && missing > 0 ? [say.missing(missing)] : [])];
  return (
    <div class={kind}>
      <p class="headline-first">
        <Mark name={early ? 'warning' : verdict.mark} /> <strong>{early ? say.outsideNow : firstWords(carriage, verdict)}</strong>
        {moreWords(carriage, verdict).map((text) => ` · ${text}`)}
      </p>
      {warnings.map((text) => (
        <p key={text} class="headline-warning">
          <Mark name="warning" /> {text}
        </p>
      ))}
    </div>
  );
}

function firstWords(carriage: Carriage, verdict: CarriageVerdict): string {
  const say = wordsOf(stationWords);
  const { age } = verdict.state;
  const since = age === null ? null : formatAge(age);
  if (verdict.verdict === 'silent') return carriage.online === false ? say.offlineFor(since) : say.noDataFor(since);
  if (verdict.verdict === 'lost') return since === null ? say.notConnected : say.notConnectedSince(since);
  if (verdict.alarm === null) return verdictText(verdict);
  const out = howFarOut(carriage, verdict.alarm);
  if (out === null) return verdictText(verdict);
  return verdict.verdict === 'outside' ? `${verdictText(verdict)}: ${outWords(carriage, verdict.alarm, out)}` : capital(verdictText(verdict));
}

function outWords({ arcs }: Carriage, { quantity, arc }: Alarm, out: string): string {
  const say = wordsOf(stationWords);
  return arc === null || arcs.length < 2 ? say.quantityOut(quantityWord(quantity), out) : say.quantityOfArcOut(quantityWord(quantity), arc, out);
}

function moreWords(carriage: Carriage, { verdict }: CarriageVerdict): string[] {
  const say = wordsOf(stationWords);
  const words = wordsOf(verdictWords);
  const { assignment, run, welding } = carriage;
  if (!welding && run === null) return [assignment === null ? words.noAssignment : say.next(seamAndRun(assignment))];
  const { toGo, endsAt } = runEnd(carriage);
  return [
    ...(verdict === 'notJudged' ? [say.noWindows] : []),
    ...(toGo === null ? [] : [words.toGo(shown('length', toGo))]),
    ...(endsAt === null ? [] : [words.ends(formatHour(endsAt))]),
  ];
}
