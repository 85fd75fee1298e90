import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { Mark } from '../shared/mark.js';
import type { MarkName } from '../shared/mark-name.js';
import { serverNow } from '../shared/now.js';
import { rangeWords } from '../shared/preparation-sentence.js';
import { formatHour } from '../shared/times.js';
import { shown } from '../shared/units.js';
import { capital } from '../shared/words.js';
import { temperatureWords } from './temperature-words.js';

const marks: Readonly<Record<'inside' | 'outside' | 'notMeasured', MarkName>> = { inside: 'full', outside: 'alert', notMeasured: 'empty' };

/** The temperature that counts against its limits, and, while the plate cools, when it will be ready: an estimate, and called one. Nothing if the procedure has no such limits. */
export function PlateState({ carriage }: { readonly carriage: Carriage }): JSX.Element | null {
  const say = temperatureWords();
  const checks = carriage.temperatureChecks ?? [];
  if (checks.length === 0) return null;
  const estimates = estimatesOf(carriage);
  return (
    <div class="plate-state">
      <ul class="plate-checks">
        {checks.map(({ quantity, min, max, value, verdict }) => (
          <li key={quantity}>
            <Mark name={marks[verdict]} /> {say.checkOf(capital(quantityWord(quantity)), rangeWords('temperature', { min, max }))}: {[value === null ? null : shown('temperature', value), say[verdict]].filter((text) => text !== null).join(' · ')}
          </li>
        ))}
      </ul>
      {estimates.map((text) => <p key={text}>{text}</p>)}
      {estimates.length > 0 && <p class="sheet-aside">{say.estimate}</p>}
    </div>
  );
}

/** When the plate will have cooled to its limits, in sentences, by the clock of the service. */
function estimatesOf({ readyAt, readyUntil, clockOffset, temperatureChecks = [] }: Carriage): string[] {
  const say = temperatureWords();
  const limit = (quantity: string, end: 'min' | 'max'): string | null => {
    const value = temperatureChecks.find((own) => own.quantity === quantity)?.[end] ?? null;
    return value === null ? null : shown('temperature', value);
  };
  const told = (time: string | null | undefined, of: string | null, words: (limit: string, time: string) => string, past: (limit: string) => string): string[] => {
    if (time == null || of === null) return [];
    const at = Date.parse(time) + (clockOffset ?? 0) * 1000;
    return [at <= serverNow.value ? past(of) : words(of, formatHour(at))];
  };
  return [...told(readyAt, limit('interpassTemperature', 'max'), say.readyAt, say.readyNow), ...told(readyUntil, limit('preheat', 'min'), say.readyUntil, say.coldNow)];
}
