import type { JSX } from 'preact';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { fluxDryingHint, missingOf } from '../../shared/weld/preparation.js';
import type { AskedEntry } from '../../shared/weld/preparation.js';
import { Mark } from '../shared/mark.js';
import { preparationWords } from '../shared/preparation-words.js';
import { shown } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { Entry } from './preparation-entry.js';
import { preparationPageWords } from './preparation-page-words.js';
import { asLastTime, changeOf } from './preparation-start.js';
import { usePreparation } from './use-preparation.js';
import type { PreparationNow } from './use-preparation.js';
import './preparation.css';

/** What is asked for before the arc is lit, each entry one press; nothing without an assignment in force. */
export function Preparation({ carriage }: { readonly carriage: Carriage }): JSX.Element | null {
  const { assignment } = carriage;
  if (assignment === null) return null;
  return <PreparationOf key={`${carriage.site}/${carriage.carriage}/${assignment.run}/${assignment.seam}`} carriage={carriage} inForce={assignment} />;
}

function PreparationOf({ carriage, inForce }: { readonly carriage: Carriage; readonly inForce: AssignmentAnswer }): JSX.Element {
  const say = wordsOf(preparationPageWords);
  const names = wordsOf(preparationWords);
  const now = usePreparation(carriage, inForce);
  const { assignment, asked, known, failure, enter } = now;
  const { earlier, procedure } = known;
  if (procedure === undefined || earlier === undefined) {
    return (
      <section class="preparation" aria-label={names.preparation}>
        <h2>{names.preparation}</h2>
        <p>{say.asking}</p>
      </section>
    );
  }
  const wrong = asked.filter((own) => missingOf(own).length > 0).length;
  const arcs = new Set(asked.flatMap(({ arc }) => (arc === null ? [] : [arc]))).size;
  return (
    <section class="preparation" aria-label={names.preparation}>
      <div class="preparation-head">
        <div>
          <h2>{names.preparation}</h2>
          <p role="status">
            <Mark name={wrong === 0 ? 'full' : 'empty'} /> {wrong === 0 ? say.complete : say.missing(wrong, asked.length)} {wrong > 0 && say.stopsNobody}
          </p>
          {procedure === null && assignment.procedure !== undefined && <p>{say.unknownProcedure(assignment.procedure)}</p>}
          {failure !== null && (
            <p class="preparation-failure" role="alert">
              <Mark name="warning" /> {say.notStored(failure)}
            </p>
          )}
        </div>
        <LastTime asked={asked} earlier={earlier} onEnter={enter} />
      </div>
      <ol class="entries">
        {asked.map((own) => (
          <Entry
            key={`${own.entry}${own.arc ?? ''}`}
            asked={own}
            arcs={arcs}
            hint={hintOf(own, now)}
            declaredPreheat={assignment.preheat}
            earlier={earlier}
            onEnter={(value) => {
              enter(changeOf(own, value));
            }}
          />
        ))}
      </ol>
    </section>
  );
}

function LastTime({ asked, earlier, onEnter }: { readonly asked: readonly AskedEntry[]; readonly earlier: readonly AssignmentAnswer[]; readonly onEnter: PreparationNow['enter'] }): JSX.Element | null {
  const say = wordsOf(preparationPageWords);
  const unentered = asked.map((own) => ({ ...own, value: null }));
  const last = earlier.find((own) => asLastTime(unentered, own) !== null);
  if (last === undefined) return null;
  const change = asLastTime(asked, last);
  return (
    // It stays where it is once all is entered, and so does the focus on it.
    <button
      type="button"
      class="entry-press"
      aria-disabled={change === null}
      onClick={() => {
        if (change !== null) onEnter(change);
      }}
    >
      <span>{say.allAsLastTime}</span>
      <small>{change === null ? say.nothingLeft : say.lastTime(last.seam, String(last.run))}</small>
    </button>
  );
}

function hintOf({ entry }: AskedEntry, { group }: PreparationNow): string | null {
  const say = wordsOf(preparationPageWords);
  if (entry === 'fluxTemperature') {
    const { fusedFrom, bondedFrom, bondedTo } = fluxDryingHint;
    return say.fluxHint(shown('temperature', fusedFrom), shown('temperature', bondedFrom), shown('temperature', bondedTo));
  }
  if (entry !== 'polarityChecked') return null;
  const named = (group?.arcs ?? []).flatMap(({ arc, currentType, polarity }) => (currentType === undefined ? [] : [say.polarity(arc, [currentType, polarity].filter((word) => word !== undefined).join(' '))]));
  return named.length === 0 ? say.usualPolarity : named.join('; ');
}
