import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { quantityWord } from '../shared/alarm-sentence.js';
import { howFarOut, isWrong, verdictText, type CarriageVerdict } from '../shared/carriage-verdict.js';
import { carriageWarnings, clockWords } from '../shared/carriage-warnings.js';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { Mark } from '../shared/mark.js';
import { now } from '../shared/now.js';
import { runEnd } from '../shared/outlook.js';
import { seamAndRun } from '../shared/common-words.js';
import { formatAge, formatHour } from '../shared/times.js';
import { digitsOf, shown } from '../shared/units.js';
import { verdictWords } from '../shared/verdict-words.js';
import { placeIn } from '../shared/window-place.js';
import { capital } from '../shared/words.js';
import { stationQuantities } from './station-quantities.js';
import { stationWords } from './station-words.js';

/** "In range", below it where the carriage is and when it is done, and what is on its way to trouble. It speaks of the alarm that the panel shows. Three lines, each of which stays where it is. */
export function Headline({ carriage, verdict, alarm }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly alarm: Alarm | null }): JSX.Element {
  const say = stationWords();
  const outsideNow = useOutsideNow(carriage);
  const early = verdict.verdict === 'inside' && outsideNow;
  const kind = isWrong(verdict.verdict) || verdict.verdict === 'lost' ? 'headline headline-trouble' : 'headline';
  const warnings = [...carriageWarnings(carriage), clockWords(carriage)].filter((text) => text !== null);
  const more = moreWords(carriage, verdict).join(' · ');
  return (
    <div class={kind}>
      <p class="headline-first">
        <Mark name={early ? 'warning' : verdict.mark} /> <strong>{early ? say.outsideNow : firstWords(carriage, { ...verdict, alarm: verdict.alarm === null ? null : alarm })}</strong>
      </p>
      <p class="headline-more">{more}</p>
      <p class="headline-warning">{warnings.length > 0 && <Mark name="warning" />} {warnings.join(' · ')}</p>
    </div>
  );
}

function firstWords(carriage: Carriage, verdict: CarriageVerdict): string {
  const say = stationWords();
  const { age } = verdict.state;
  const since = age === null ? null : formatAge(age);
  if (verdict.verdict === 'silent') return carriage.online === false ? say.offlineFor(since) : say.noDataFor(since);
  if (verdict.verdict === 'lost') return since === null ? say.notConnected : say.notConnectedSince(since);
  if (verdict.alarm === null) return verdictText(verdict);
  const out = howFarOut(carriage, verdict.alarm);
  if (out === null) return verdictText(verdict);
  return verdict.verdict === 'outside' ? say.verdictOf(verdictText(verdict), outWords(carriage, verdict.alarm, out)) : capital(verdictText(verdict));
}

function outWords({ arcs }: Carriage, { quantity, arc }: Alarm, out: string): string {
  const say = stationWords();
  return arc === null || arcs.length < 2 ? say.quantityOut(quantityWord(quantity), out) : say.quantityOfArcOut(quantityWord(quantity), arc, out);
}

/** Where the carriage is and when it will be done. For a silent carriage only where it was, as nobody knows whether it went on. */
function moreWords(carriage: Carriage, { verdict, state }: CarriageVerdict): string[] {
  const say = stationWords();
  const words = verdictWords();
  const { assignment, run, welding } = carriage;
  if (!welding && run === null) return [assignment === null ? words.noAssignment : say.next(seamAndRun(assignment))];
  const { toGo, endsAt } = runEnd(carriage);
  const place = placeWords(carriage, toGo);
  if (state.stale || verdict === 'lost') return place === null ? [] : [words.lastKnown(place)];
  return [
    ...(place === null ? [] : [place]),
    ...(verdict === 'notJudged' ? [say.noWindows] : []),
    ...(toGo === null ? [] : [words.toGo(shown('length', toGo))]),
    ...(endsAt === null ? [] : [words.ends(formatHour(endsAt))]),
  ];
}

/** How far a length shown in whole mm may be off, mm. */
const rounded = 1.5;

/** "at 1834 of 2400 mm" where place and what is left make up the length; else from where the place is counted, and whether it is approached: the seam may be welded towards its datum, or end with a tab. */
function placeWords(carriage: Carriage, toGo: number | null): string | null {
  const { seamPosition, seamDegrees, assignment } = carriage;
  if (seamPosition === null) return null;
  const say = stationWords();
  // Round work that rotates, people count in degrees.
  if (seamDegrees != null) return say.fromDatum(`${shown('length', seamPosition)} · ${shown('degrees', seamDegrees)}`);
  const { seamLength, direction } = assignment ?? {};
  if (direction === -1) return say.towardsDatum(shown('length', seamPosition));
  if (seamLength !== undefined && (toGo === null || Math.abs(seamPosition + toGo - seamLength) <= rounded)) return say.atPlaceOf(digitsOf('length', seamPosition), shown('length', seamLength));
  return say.fromDatum(shown('length', seamPosition));
}

/** A value must lie outside for this long before the sentence says so, ms: noise at a limit would make it flicker. */
const steadyFor = 1_000;

/** Whether a value has been outside its window for a second, alarm or not: nothing is judged during arc start, and an excursion has its on-delay. */
function useOutsideNow(carriage: Carriage): boolean {
  const since = useSignal<number | null>(null);
  const outside = carriage.welding && stationQuantities(carriage).some(({ value, window }) => value !== null && window !== null && placeIn(window, value).by > 0);
  useEffect(() => { since.value = outside ? Date.now() : null; }, [outside, since]);
  return since.value !== null && now.value - since.value >= steadyFor;
}
