import type { JSX } from 'preact';
import type { Run } from '../../../shared/api-types/run.js';
import { FactList } from '../../shared/fact-list.js';
import { figureWords } from './figure-words.js';
import { missingValues } from './missing-values.js';

/** Every value that a run or one of its arcs lacks, with the reason; what all arcs lack for the same reason is listed once. */
export function MissingList({ run }: { readonly run: Run }): JSX.Element {
  const say = figureWords();
  const missing = missingValues(run);
  return (
    <section>
      <h2>{say.absent}</h2>
      {missing.length === 0 ? <p class="none">{say.nothingAbsent}</p> : <FactList look="run-facts" facts={missing} />}
    </section>
  );
}
