import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { fluxDryingHint, missingOf, type AskedEntry } from '../../shared/weld/preparation/preparation.js';
import { Mark } from '../shared/mark.js';
import { entryName, entryValue } from '../shared/preparation-sentence.js';
import { preparationWords } from '../shared/preparation-words.js';
import { shown } from '../shared/units.js';
import { entryState, preheatCheck, type TemperatureCheckAnswer } from './entry-state.js';
import { temperatureWords } from './temperature-words.js';
import { Entry } from './preparation-entry.js';
import { preparationPageWords } from './preparation-page-words.js';
import { entryChange, withMaterialsOf } from './preparation-start.js';
import { Sheet } from './sheet.js';
import { useJobWrites } from './use-job-writes.js';
import { usePreparation, type PreparationNow } from './use-preparation.js';
import './preparation.css';

interface PreparationProps {
  readonly carriage: Carriage;
  readonly signer: string;
  readonly material: () => void;
  readonly temperature: () => void;
  readonly close: () => void;
}

/** The checks before arc start: all of them at a glance, and each on a card of its own. They stay within reach while welding. */
export function Preparation({ carriage, ...props }: PreparationProps): JSX.Element | null {
  const { assignment } = carriage;
  if (assignment === null) return null;
  return <PreparationOf key={`${carriage.site}/${carriage.carriage}/${assignment.run}/${assignment.seam}`} carriage={carriage} inForce={assignment} {...props} />;
}

function PreparationOf({ carriage, inForce, signer, material, temperature, close }: PreparationProps & { readonly inForce: AssignmentAnswer }): JSX.Element {
  const say = preparationPageWords();
  const names = preparationWords();
  const now = usePreparation(carriage, inForce, signer);
  const writes = useJobWrites(carriage, signer);
  const at = useSignal<number | null>(null);
  const { assignment, asked, known, failure, enter } = now;
  const { earlier, procedure } = known;
  if (procedure === undefined || earlier === undefined) return <Sheet title={names.preparation} close={close}><p>{say.loading}</p></Sheet>;
  const isOpen = (own: AskedEntry): boolean => (preheatCheck(carriage, own) ?? null) === null ? missingOf(own).length > 0 : preheatCheck(carriage, own)?.verdict !== 'inside';
  const interpass = carriage.temperatureChecks?.find(({ quantity }) => quantity === 'interpassTemperature');
  const all = asked.length + Number(interpass !== undefined);
  const wrong = asked.filter(isOpen).length + Number(interpass !== undefined && interpass.verdict !== 'inside');
  const arcs = new Set(asked.flatMap(({ arc }) => (arc === null ? [] : [arc]))).size;
  const reason = failure ?? writes.failure;
  const shownAt = at.value;
  const own = shownAt === null ? undefined : asked[shownAt];
  const status = (
    <>
      <p role="status"><Mark name={wrong === 0 ? 'full' : 'empty'} /> {wrong === 0 ? say.allComplete : say.missing(wrong, all)}</p>
      {procedure === null && assignment.procedure !== undefined && <p>{say.unknownProcedure(assignment.procedure)}</p>}
      {reason !== null && <p class="preparation-failure" role="alert"><Mark name="warning" /> {say.notSavedTryAgain(reason)}</p>}
    </>
  );
  if (own === undefined || shownAt === null) {
    const last = earlier.map((job) => ({ job, next: withMaterialsOf(assignment, asked, job) })).find(({ next }) => next !== null);
    return (
      <Sheet title={names.preparation} close={close} focus={null}>
        <div class="preparation">
          {status}
          <ol class="entries">
            {asked.map((entry, index) => (
              <li key={`${entry.entry}${entry.arc ?? ''}`}>
                <EntryButton asked={entry} assignment={assignment} arcs={arcs} check={preheatCheck(carriage, entry)} open={() => { at.value = index; }} />
              </li>
            ))}
            {interpass !== undefined && <li><InterpassButton check={interpass} open={temperature} /></li>}
            <li><button type="button" class="entry-press" onClick={material}><span>{say.material}</span></button></li>
            {last?.next != null && (
              <li>
                <button type="button" class="entry-press" onClick={() => { if (last.next !== null) void writes.give(last.next, 'same materials as the run before'); }}>
                  <span>{say.sameMaterials}</span>
                  <small>{say.lastTime(last.job.seam, String(last.job.run))}</small>
                </button>
              </li>
            )}
          </ol>
        </div>
      </Sheet>
    );
  }
  return (
    <Sheet title={say.card(entryName(own, arcs), shownAt + 1, asked.length)} close={() => { at.value = null; }} focus={shownAt}>
      <div class="preparation">
        <Entry
          key={`${own.entry}${own.arc ?? ''}`}
          asked={own}
          check={preheatCheck(carriage, own)}
          assignment={assignment}
          arcs={arcs}
          hint={hintOf(own, now)}
          declaredPreheat={assignment.preheat}
          earlier={earlier}
          onEnter={(value) => { enter(entryChange(own, value)); }}
        />
        <div class="pushes preparation-steps">
          <button type="button" class="push" disabled={shownAt === 0} onClick={() => { at.value = shownAt - 1; }}>{say.back}</button>
          <button type="button" class="push" onClick={() => { at.value = null; }}>{say.allEntries}</button>
          <button type="button" class="push push-first" disabled={shownAt + 1 >= asked.length} onClick={() => { at.value = shownAt + 1; }}>
            {say.next}
          </button>
        </div>
        {status}
      </div>
    </Sheet>
  );
}

function EntryButton({ asked, assignment, arcs, check, open }: { readonly asked: AskedEntry; readonly assignment: AssignmentAnswer; readonly arcs: number; readonly check: TemperatureCheckAnswer | undefined; readonly open: () => void }): JSX.Element {
  const state = entryState(asked, assignment, check);
  return (
    <button type="button" class={state.is === 'outside' ? 'entry-press entry-outside' : 'entry-press'} onClick={open}>
      <span>{entryName(asked, arcs)}</span>
      {asked.value !== null && typeof asked.value !== 'boolean' && <strong>{entryValue(asked)}</strong>}
      <small><Mark name={state.mark} /> {state.words}</small>
    </button>
  );
}

/** The interpass temperature is a measurement, entered on a sheet of its own. */
function InterpassButton({ check, open }: { readonly check: TemperatureCheckAnswer; readonly open: () => void }): JSX.Element {
  const say = preparationPageWords();
  const { value, verdict } = check;
  return (
    <button type="button" class={verdict === 'outside' ? 'entry-press entry-outside' : 'entry-press'} onClick={open}>
      <span>{preparationWords().interpassMeasured}</span>
      {value !== null && <strong>{shown('temperature', value)}</strong>}
      <small><Mark name={verdict === 'inside' ? 'full' : verdict === 'outside' ? 'alert' : 'empty'} /> {verdict === 'inside' ? temperatureWords().inside : verdict === 'outside' ? say.outside : say.notEntered}</small>
    </button>
  );
}

function hintOf({ entry }: AskedEntry, { group }: PreparationNow): string | null {
  const say = preparationPageWords();
  if (entry === 'fluxTemperature') {
    const { fusedFrom, bondedFrom, bondedTo } = fluxDryingHint;
    return say.fluxHint(shown('temperature', fusedFrom), shown('temperature', bondedFrom), shown('temperature', bondedTo));
  }
  if (entry !== 'polarityChecked') return null;
  const named = (group?.arcs ?? []).flatMap(({ arc, currentType, polarity }) => (currentType === undefined ? [] : [say.polarity(arc, [currentType, polarity].filter((word) => word !== undefined).join(' '))]));
  return named.length === 0 ? say.usualPolarity : named.join('; ');
}
