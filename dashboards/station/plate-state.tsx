import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { absentText, type Why } from '../run/figures/absent-text.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { Mark } from '../shared/mark.js';
import type { MarkName } from '../shared/mark-name.js';
import { serverNow } from '../shared/now.js';
import { rangeWords } from '../shared/preparation-sentence.js';
import { formatHour, formatMinutes } from '../shared/times.js';
import { shown } from '../shared/units.js';
import { capital } from '../shared/words.js';
import { temperatureWords } from './temperature-words.js';

const marks: Readonly<Record<'inside' | 'outside' | 'notMeasured', MarkName>> = { inside: 'full', outside: 'alert', notMeasured: 'empty' };

/** The temperature that counts against its limits, and, while the plate cools, when it will be ready: an estimate, and called one. Nothing if there are no such limits and nobody measured. */
export function PlateState({ carriage }: { readonly carriage: Carriage }): JSX.Element | null {
  const say = temperatureWords();
  const checks = carriage.temperatureChecks ?? [];
  if (!hasPlateState(carriage)) return null;
  const estimates = estimatesOf(carriage);
  const why = estimates.length > 0 ? null : notEstimated(carriage);
  return (
    <div class="plate-state">
      {checks.length > 0 && (
        <ul class="plate-checks">
          {checks.map(({ quantity, min, max, value, verdict }) => (
            <li key={quantity}>
              <Mark name={marks[verdict]} /> {say.checkOf(capital(quantityWord(quantity)), rangeWords('temperature', { min, max }))}: {[value === null ? null : shown('temperature', value), say[verdict]].filter((text) => text !== null).join(' · ')}
            </li>
          ))}
        </ul>
      )}
      {estimates.map((text) => <p key={text}>{text}</p>)}
      {estimates.length > 0 && <p class="sheet-aside">{say.estimate}</p>}
      {why !== null && <p>{say.noEstimate(absentText(why))}</p>}
    </div>
  );
}

/** Whether there is anything to say of the plate. */
export function hasPlateState(carriage: Carriage): boolean {
  return (carriage.temperatureChecks ?? []).length > 0 || notEstimated(carriage) !== null;
}

/** Why it is not known when the plate will be ready; null where it is, and where nobody measured since the arc went out. */
function notEstimated({ reasons }: Carriage): Why | null {
  const [at, until] = [reasons?.['readyAt'], reasons?.['readyUntil']];
  const why = at?.code === 'noTemperatureLimit' ? (until ?? at) : at;
  return why === undefined || why.code === 'fewMeasurements' || why.code === 'arcBurns' ? null : why;
}

const minute = 60_000;

/** When the plate will have cooled to its limits, in sentences, by the clock of the service; to the whole minute that is on the safe side. */
function estimatesOf({ readyAt, readyUntil, clockOffset, temperatureChecks = [] }: Carriage): string[] {
  const say = temperatureWords();
  const limit = (quantity: string, end: 'min' | 'max'): string | null => {
    const value = temperatureChecks.find((own) => own.quantity === quantity)?.[end] ?? null;
    return value === null ? null : shown('temperature', value);
  };
  type Words = (limit: string, time: string, left: string) => string;
  const told = (time: string | null | undefined, of: string | null, safe: (minutes: number) => number, words: Words, past: (limit: string) => string): string[] => {
    if (time == null || of === null) return [];
    const at = Date.parse(time) + (clockOffset ?? 0) * 1000;
    const left = at - serverNow.value;
    return [left <= 0 ? past(of) : words(of, formatHour(safe(at / minute) * minute), formatMinutes(safe(left / minute)))];
  };
  return [
    ...told(readyAt, limit('interpassTemperature', 'max'), Math.ceil, say.readyAt, say.readyNow), ...told(readyUntil, limit('preheat', 'min'), Math.floor, say.readyUntil, say.coldNow),
  ];
}
