import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId, useRef } from 'preact/hooks';
import type { SensorsAnswer } from '../../shared/api-types/sensors.js';
import { fieldAttributes, FormField, handleSubmit, Options, personName, type SelectChoice } from '../shared/form-parts.js';
import { Mark } from '../shared/mark.js';
import { serverNow } from '../shared/now.js';
import { readNumber } from '../shared/read-number.js';
import { formatDate } from '../shared/times.js';
import { formatNumber } from '../shared/units.js';
import { putSensors } from './sensors-api.js';
import { arcDraft, draftOf, sensorsOf, wrongOf, type ArcDraft, type ArcFieldName, type SensorsDraft } from './sensors-draft.js';
import { sensorsWords } from './sensors-words.js';
import './sensors.css';

const mostArcs = 6;
/** The current for which the drop in the cables is given as an example, A. */
const exampleCurrent = 600;

interface FormProps {
  readonly site: string;
  readonly carriage: string;
  readonly declared: SensorsAnswer | null;
  /** The arcs that the carriage sends. */
  readonly sent: readonly number[];
  readonly onSaved: (declared: SensorsAnswer) => void;
}

export function SensorsForm({ site, carriage, declared, sent, onSaved }: FormProps): JSX.Element {
  const say = sensorsWords();
  const id = useId();
  const place = useRef<HTMLFormElement>(null);
  const draft = useSignal<SensorsDraft>(draftOf(declared, sent));
  const state = useSignal<{ readonly sending: boolean; readonly failure: string | null; readonly tried: boolean }>({ sending: false, failure: null, tried: false });
  const { carriage: fields, arcs } = draft.value;
  const nameMissing = personName.value.trim() === '';
  /** Ids of the dates that are filled in only in part: their value is empty, and saving would drop them. */
  const partial = useSignal<readonly string[]>([]);
  const findPartial = (): void => {
    const dates = [...(place.current?.querySelectorAll<HTMLInputElement>('input[type=date]') ?? [])];
    partial.value = dates.filter(({ validity }) => validity.badInput).map((own) => own.id);
  };
  const wrongDate = (own: string): string | null => (partial.value.includes(own) ? say.wholeDate : null);
  const isWrong = (): boolean => nameMissing || partial.value.length > 0 || arcs.some((own) => wrongOf(own) !== null);
  const set = (change: Partial<SensorsDraft>): void => { draft.value = { ...draft.value, ...change }; };
  const setField = (name: keyof typeof fields) => (value: string): void => { set({ carriage: { ...draft.value.carriage, [name]: value } }); };
  /** An arc that comes or goes may take along the button that was pressed: the focus goes to what is nearest. */
  const addButton = `${id}-add`;
  const focusOn = (own: string): void => { requestAnimationFrame(() => { document.getElementById(own)?.focus(); }); };
  const remove = (gone: number): void => {
    set({ arcs: arcs.filter(({ arc }) => arc !== gone) });
    focusOn(addButton);
  };
  const add = (free: number): void => {
    set({ arcs: [...arcs, arcDraft(free)].sort((a, b) => a.arc - b.arc) });
    if (arcs.length + 1 === mostArcs) focusOn(`${id}-${free}-currentSensor`);
  };
  const free = [1, 2, 3, 4, 5, 6].find((number) => arcs.every(({ arc }) => arc !== number));
  const save = async (): Promise<void> => {
    findPartial();
    if (isWrong()) {
      state.value = { ...state.value, tried: true };
      requestAnimationFrame(() => place.current?.querySelector<HTMLElement>('[aria-invalid]')?.focus());
      return;
    }
    state.value = { sending: true, failure: null, tried: true };
    const answer = await putSensors(site, carriage, sensorsOf(draft.value), personName.value.trim());
    state.value = { sending: false, failure: answer.ok ? null : answer.failure.reason, tried: true };
    if (answer.ok) onSaved(answer.value);
  };
  const wrongName = state.value.tried && nameMissing ? say.nameNeeded : null;
  return (
    <form ref={place} class="sensors-form" noValidate onFocusOut={findPartial} onInput={() => { if (partial.value.length > 0) findPartial(); }} onSubmit={handleSubmit(() => { void save(); })}>
      <fieldset class="sensors-section">
        <legend>{say.carriageSection}</legend>
        <Choice id={`${id}-travel`} label={say.travelSource} value={fields.travelSource} onChoose={setField('travelSource')} choices={(['encoder', 'rotator', 'setPoint', 'stopwatch'] as const).map((own) => [own, say[own]])} />
        <DateField id={`${id}-due`} label={say.travelCalibrationDue} value={fields.travelCalibrationDue} isDue wrong={wrongDate(`${id}-due`)} onInput={setField('travelCalibrationDue')} />
        <Choice id={`${id}-plate`} label={say.plateTemperaturePlace} value={fields.plateTemperaturePlace} onChoose={setField('plateTemperaturePlace')} choices={(['ahead', 'behind'] as const).map((own) => [own, say[own]])} />
        {(fields.travelSource === 'setPoint' || fields.travelSource === 'stopwatch') && <p class="sensors-note"><Mark name="warning" /> {say.notMeasured}</p>}
      </fieldset>
      {arcs.map((own) => (
        <fieldset key={own.arc} class="sensors-section">
          <legend>{say.arcLabel(own.arc)}</legend>
          <ArcFields own={own} id={`${id}-${own.arc}`} wrongDate={wrongDate} onInput={(name, value) => { set({ arcs: draft.value.arcs.map((other) => (other.arc === own.arc ? { ...other, [name]: value } : other)) }); }} />
          {arcs.length > 1 && <button type="button" class="push" onClick={() => { remove(own.arc); }}>{say.removeArc(own.arc)}</button>}
        </fieldset>
      ))}
      {free !== undefined && <p><button type="button" id={addButton} class="push" onClick={() => { add(free); }}>{say.addArc}</button></p>}
      <fieldset class="sensors-section">
        <FormField id={`${id}-by`} label={say.yourName} wrong={wrongName}>
          <input type="text" autocomplete="off" required value={personName.value} {...fieldAttributes(`${id}-by`, wrongName)} onInput={(event) => { personName.value = event.currentTarget.value; }} />
        </FormField>
        <p class="sensors-note">{say.dueNote()}</p>
      </fieldset>
      <div role="alert">{state.value.failure !== null && <p><Mark name="warning" /> {say.notSavedKept(state.value.failure)}</p>}</div>
      <div class="pushes"><button type="submit" class="push push-first" disabled={state.value.sending}>{state.value.sending ? say.saving : say.save}</button></div>
    </form>
  );
}

interface ArcFieldsProps { readonly own: ArcDraft; readonly id: string; readonly wrongDate: (id: string) => string | null; readonly onInput: (name: ArcFieldName, value: string) => void }

function ArcFields({ own, id, wrongDate, onInput }: ArcFieldsProps): JSX.Element {
  const say = sensorsWords();
  const wrong = wrongOf(own);
  const resistance = readNumber(own.cableResistance);
  const signs: readonly SelectChoice[] = [['yes', say.signYes], ['no', say.signNo]];
  const field = (name: ArcFieldName): { readonly id: string; readonly label: string; readonly value: string } => ({ id: `${id}-${name}`, label: say[name], value: own[name] });
  const choose = (name: ArcFieldName) => (value: string): void => { onInput(name, value); };
  return (
    <>
      <Choice {...field('currentSensor')} onChoose={choose('currentSensor')} choices={(['shunt', 'hall'] as const).map((kind) => [kind, say[kind]])} />
      <Choice {...field('signedCurrent')} onChoose={choose('signedCurrent')} choices={signs} />
      <Choice {...field('signedVoltage')} onChoose={choose('signedVoltage')} choices={signs} />
      <Choice {...field('voltagePickup')} onChoose={choose('voltagePickup')} choices={(['source', 'contactTube'] as const).map((kind) => [kind, say[kind]])} />
      {own.voltagePickup === 'source' && (
        <FormField id={`${id}-cableResistance`} label={say.cableResistance} unit="mΩ" wrong={wrong === null ? null : say[wrong]}>
          <input type="text" inputMode="decimal" class="digits" autocomplete="off" value={own.cableResistance} {...fieldAttributes(`${id}-cableResistance`, wrong === null ? null : say[wrong])} onInput={(event) => { onInput('cableResistance', event.currentTarget.value); }} />
        </FormField>
      )}
      <FormField id={`${id}-serial`} label={say.serial} wrong={null}>
        <input type="text" autocomplete="off" maxLength={100} value={own.serial} id={`${id}-serial`} onInput={(event) => { onInput('serial', event.currentTarget.value); }} />
      </FormField>
      <DateField {...field('calibratedAt')} wrong={wrongDate(`${id}-calibratedAt`)} onInput={choose('calibratedAt')} />
      <DateField {...field('calibrationDue')} isDue wrong={wrongDate(`${id}-calibrationDue`)} onInput={choose('calibrationDue')} />
      {own.voltagePickup === 'source' && wrong === null && (
        <p class="sensors-note">{resistance.is === 'number' ? say.correction(formatNumber((resistance.value * exampleCurrent) / 1e3, 2)) : say.noCorrection}</p>
      )}
    </>
  );
}

interface ChoiceProps { readonly id: string; readonly label: string; readonly value: string; readonly choices: readonly SelectChoice[]; readonly onChoose: (value: string) => void }

function Choice({ id, label, value, choices, onChoose }: ChoiceProps): JSX.Element {
  return (
    <FormField id={id} label={label} wrong={null}>
      <select id={id} value={value} onChange={(event) => { onChoose(event.currentTarget.value); }}>
        <Options choices={[['', sensorsWords().notSaid], ...choices]} />
      </select>
    </FormField>
  );
}

interface DateProps { readonly id: string; readonly label: string; readonly value: string; readonly isDue?: boolean; readonly wrong: string | null; readonly onInput: (value: string) => void }

/** A date; where it is one by which something was due, and over, that is said below it. */
function DateField({ id, label, value, isDue = false, wrong, onInput }: DateProps): JSX.Element {
  // A due date holds to its end, in the plant's zone.
  const isPast = isDue && wrong === null && value !== '' && formatDate(serverNow.value) > value;
  return (
    <FormField id={id} label={label} wrong={wrong}>
      <input type="date" value={value} {...fieldAttributes(id, wrong)} {...(isPast ? { 'aria-describedby': `${id}-past` } : {})} onInput={(event) => { onInput(event.currentTarget.value); }} />
      {isPast && <p class="wrong" id={`${id}-past`}><Mark name="warning" /> {sensorsWords().pastDue()}</p>}
    </FormField>
  );
}
