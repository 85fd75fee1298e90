import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { TemperatureMeasurement } from '../../shared/api-types/temperature.js';
import { handleSubmit } from '../shared/form-parts.js';
import { Mark } from '../shared/mark.js';
import { readNumber } from '../shared/read-number.js';
import { fetchTemperatures, postTemperature, withdrawTemperature } from '../shared/temperature-api.js';
import { formatHour } from '../shared/times.js';
import { fromUnit, shown, unitOf } from '../shared/units.js';
import { useAnswer } from '../shared/use-answer.js';
import { Keypad } from './keypad.js';
import { PlateState } from './plate-state.js';
import { Sheet } from './sheet.js';
import { temperatureWords } from './temperature-words.js';

/** How many of the newest measurements are listed. */
const listed = 4;

interface SheetProps { readonly carriage: Carriage; readonly signer: string; readonly close: () => void }

/** A temperature of the plate measured now: its value by keys, which kind it is and where it was measured; below it what was measured before. */
export function TemperatureSheet({ carriage, signer, close }: SheetProps): JSX.Element {
  const say = temperatureWords();
  const { site, carriage: name, assignment } = carriage;
  const kind = useSignal<TemperatureMeasurement['kind']>(assignment === null || assignment.run === 1 ? 'preheat' : 'interpass');
  const place = useSignal<TemperatureMeasurement['place']>('ahead');
  const typed = useSignal('');
  const keys = useSignal(false);
  const failure = useSignal<string | null>(null);
  const before = useAnswer(async (signal) => await fetchTemperatures(site, name, listed, signal), [site, name]);
  const label = `${say.measured}, ${unitOf('temperature')}`;
  const save = async (): Promise<void> => {
    const read = readNumber(typed.value);
    if (read.is !== 'number') {
      failure.value = say.needed;
      return;
    }
    const answer = await postTemperature(site, name, { kind: kind.value, value: Number(fromUnit('temperature', read.value).toPrecision(12)), place: place.value, by: signer.slice(0, 100) });
    failure.value = answer.ok ? null : say.notSavedTryAgain(answer.failure.reason);
    if (!answer.ok) return;
    typed.value = '';
    before.again();
  };
  const withdraw = async (id: string): Promise<void> => {
    const answer = await withdrawTemperature(site, name, id, signer.slice(0, 100));
    failure.value = answer.ok ? null : say.notSavedTryAgain(answer.failure.reason);
    before.again();
  };
  if (keys.value) {
    return (
      <Sheet title={say.title} close={() => { keys.value = false; }} focus="keys">
        <Keypad kind="number" label={label} start={typed.value} done={(text) => { typed.value = text; keys.value = false; }} />
      </Sheet>
    );
  }
  const choice = <Value extends string>(title: string, of: { value: Value }, choices: readonly (readonly [Value, string])[]): JSX.Element => (
    <div class="pushes" role="group" aria-label={title}>
      {choices.map(([value, text]) => <button key={value} type="button" class="push" aria-pressed={of.value === value} onClick={() => { of.value = value; }}>{text}</button>)}
    </div>
  );
  return (
    <Sheet title={say.title} close={close} focus="form">
      <form class="material" onSubmit={handleSubmit(() => { void save(); })}>
        <div class="measured-choices">
          {choice(say.kind, kind, [['preheat', say.preheat], ['interpass', say.interpass]])}
          {choice(say.place, place, [['ahead', say.ahead], ['behind', say.behind]])}
        </div>
        {place.value === 'behind' && <p class="sheet-aside">{say.behindHint}</p>}
        <div class="material-fields">
          <label>
            {label}
            <input type="text" inputMode="decimal" autocomplete="off" maxLength={12} value={typed.value} onClick={() => { keys.value = true; }} onInput={(event) => { typed.value = event.currentTarget.value; }} />
          </label>
          <button type="submit" class="push push-first">{say.save}</button>
        </div>
        {failure.value !== null && <p role="alert" class="alarm-failed"><Mark name="warning" /> {failure.value}</p>}
      </form>
      <PlateState carriage={carriage} />
      <MeasuredList items={before.value?.items ?? null} offset={carriage.clockOffset} onWithdraw={(id) => { void withdraw(id); }} />
    </Sheet>
  );
}

function MeasuredList({ items, offset, onWithdraw }: { readonly items: readonly TemperatureMeasurement[] | null; readonly offset: number | null; readonly onWithdraw: (id: string) => void }): JSX.Element | null {
  const say = temperatureWords();
  if (items === null) return null;
  if (items.length === 0) return <p>{say.none}</p>;
  return (
    <ul class="cleared-list measured-list">
      {items.map(({ id, kind, value, at, place, by, withdrawn }) => (
        <li key={id}>
          <span class={withdrawn === null ? undefined : 'measured-withdrawn'}>
            {[shown('temperature', value), say[kind], say[place], say.at(formatHour(Date.parse(at) + (offset ?? 0) * 1000)), by].join(' · ')}
          </span>
          {withdrawn === null ? <button type="button" class="push" aria-label={`${say.withdraw}: ${shown('temperature', value)}`} onClick={() => { onWithdraw(id); }}>{say.withdraw}</button> : <span>{say.withdrawn(withdrawn.by)}</span>}
        </li>
      ))}
    </ul>
  );
}
