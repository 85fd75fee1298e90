import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { checkNumber, numberFields } from '../job/job-fields.js';
import { postMaterial } from '../job/job-api.js';
import { putPreparation } from '../shared/api.js';
import { handleSubmit } from '../shared/form-parts.js';
import { Mark } from '../shared/mark.js';
import { shown, unitOf } from '../shared/units.js';
import { Keypad } from './keypad.js';
import { Sheet } from './sheet.js';
import { stationWords } from './station-words.js';

type Kind = 'spoolChanged' | 'fluxRefilled';
const fieldNames = ['lot', 'mass', 'place'] as const;
type Field = (typeof fieldNames)[number];

/** A new spool or new flux, also during a run: its lot (scanned or typed), how much of it there is, and where on the run it was changed. */
export function MaterialSheet({ carriage, signer, close }: { readonly carriage: Carriage; readonly signer: string; readonly close: () => void }): JSX.Element {
  const say = stationWords();
  const kind = useSignal<Kind | null>(null);
  const chosen = kind.value;
  if (chosen === null) {
    return (
      <Sheet title={say.material} close={close}>
        <div class="pushes">
          <button type="button" class="push" onClick={() => { kind.value = 'spoolChanged'; }}>{say.spoolChanged}</button>
          <button type="button" class="push" onClick={() => { kind.value = 'fluxRefilled'; }}>{say.fluxRefilled}</button>
        </div>
        <MaterialList carriage={carriage} />
      </Sheet>
    );
  }
  return (
    <Sheet title={say[chosen]} close={close} focus={chosen}>
      <MaterialForm carriage={carriage} kind={chosen} signer={signer} done={close} />
    </Sheet>
  );
}

function MaterialList({ carriage: { assignment } }: { readonly carriage: Carriage }): JSX.Element | null {
  const say = stationWords();
  const changes = assignment?.materials ?? [];
  if (changes.length === 0) return null;
  return (
    <ul class="cleared-list">
      {changes.map(({ kind, lot, mass, travelled, by, at }) => (
        <li key={at}>
          {[say[kind], lot, mass === null ? null : shown('mass', mass), travelled === null ? null : say.atPlace(shown('length', travelled)), by].filter((text) => text !== null).join(' · ')}
        </li>
      ))}
    </ul>
  );
}

function MaterialForm({ carriage, kind, signer, done }: { readonly carriage: Carriage; readonly kind: Kind; readonly signer: string; readonly done: () => void }): JSX.Element {
  const say = stationWords();
  const arcs = [...new Set([...carriage.arcs.map(({ arc }) => arc), ...(carriage.assignment?.arcs ?? []).map(({ arc }) => arc), 1])].sort((a, b) => a - b);
  const arc = useSignal(arcs[0] ?? 1);
  const lot = useSignal('');
  const mass = useSignal('');
  const place = useSignal(carriage.travelled === null ? '' : numberFields.startOffset.text(Math.round(carriage.travelled)));
  const failure = useSignal<string | null>(null);
  /** The field for which the large keys are open. */
  const keysFor = useSignal<Field | null>(null);
  const isSpool = kind === 'spoolChanged';
  // Before arc start a lot is part of the job, which has no place for the amount of flux.
  const fields: Readonly<Record<Field, { readonly label: string; readonly value: typeof lot; readonly kind: 'lot' | 'number'; readonly isAsked: boolean }>> = {
    lot: { label: say.scanLot, value: lot, kind: 'lot', isAsked: true },
    mass: { label: `${say.massOf}, ${unitOf('mass')}`, value: mass, kind: 'number', isAsked: isSpool || carriage.run !== null },
    place: { label: `${say.changedAt}, ${unitOf('fineLength')}`, value: place, kind: 'number', isAsked: carriage.run !== null },
  };
  const save = async (): Promise<void> => {
    const kg = checkNumber('spoolMass', mass.value, undefined);
    const mm = checkNumber('startOffset', place.value, undefined);
    if (typeof kg === 'string' || typeof mm === 'string') {
      failure.value = say.numberNeeded;
      return;
    }
    const { site, carriage: name, assignment, run } = carriage;
    if (assignment === null) return;
    const which = { seam: assignment.seam, run: assignment.run, by: signer };
    const text = lot.value.trim();
    const own = isSpool ? arc.value : null;
    const answer =
      run === null
        ? await putPreparation(site, name, { ...which, ...(own === null ? { fluxLot: text === '' ? undefined : text } : { arcs: [{ arc: own, ...(text === '' ? {} : { wireLot: text }), ...(kg === null ? {} : { spoolMass: kg.value }) }] }) })
        : await postMaterial(site, name, { ...which, kind, ...(own === null ? {} : { arc: own }), ...(text === '' ? {} : { lot: text }), ...(kg === null ? {} : { mass: kg.value }), ...(mm === null ? {} : { travelled: mm.value }) });
    failure.value = answer.ok ? null : say.notSavedTryAgain(answer.failure.reason);
    if (answer.ok) done();
  };
  if (keysFor.value !== null) {
    const { label, value, kind: keys } = fields[keysFor.value];
    return (
      <Keypad
        key={keysFor.value}
        kind={keys}
        label={label}
        start={value.value}
        done={(text) => {
          value.value = text;
          keysFor.value = null;
        }}
      />
    );
  }
  return (
    <form class="material" onSubmit={handleSubmit(() => { void save(); })}>
      {isSpool && arcs.length > 1 && (
        <div class="pushes" role="group" aria-label={say.whichArc}>
          {arcs.map((own) => (
            <button key={own} type="button" class="push" aria-pressed={own === arc.value} onClick={() => { arc.value = own; }}>
              {say.arcLabel(own)}
            </button>
          ))}
        </div>
      )}
      <div class="material-fields">
        {fieldNames.filter((name) => fields[name].isAsked).map((name) => {
          const { label, value, kind: keys } = fields[name];
          return (
            <label key={name}>
              {label}
              <input type="text" inputMode={keys === 'lot' ? 'text' : 'decimal'} autocomplete="off" maxLength={128} value={value.value} onClick={() => { keysFor.value = name; }} onInput={(event) => { value.value = event.currentTarget.value; }} />
            </label>
          );
        })}
        <button type="submit" class="push push-first">{say.save}</button>
      </div>
      {failure.value !== null && <p role="alert" class="alarm-failed"><Mark name="warning" /> {failure.value}</p>}
    </form>
  );
}
