import type { JSX } from 'preact';
import { quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { digitsOf, unitOf } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { assignmentEntries } from './assignment-entries.js';
import { Preparation } from './preparation.js';
import { stationQuantities } from './station-quantities.js';
import { stationWords } from './station-words.js';

/** While no arc burns: what is next, in which ranges, and what has to be done before. */
export function BetweenRuns({ carriage }: { readonly carriage: Carriage }): JSX.Element {
  const say = wordsOf(stationWords);
  const { assignment } = carriage;
  const ranges = stationQuantities(carriage).filter(({ window }) => window !== null);
  return (
    <div class="between">
      <section>
        <h2>{say.assignment}</h2>
        {assignment === null ? (
          <p>{say.noAssignment}</p>
        ) : (
          <dl class="facts">
            {assignmentEntries(assignment).map(([name, value]) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{value}</dd>
              </div>
            ))}
          </dl>
        )}
      </section>
      {ranges.length > 0 && (
        <section>
          <h2>{say.permitted}</h2>
          <dl class="facts">
            {ranges.map(({ name, arc, window }) => (
              <div key={`${name} ${arc ?? ''}`}>
                <dt>{capital(arc === null ? quantityWord(name) : say.arc(quantityWord(name), arc))}</dt>
                <dd>{say.range(window?.min === undefined ? null : digitsOf(name, window.min), window?.max === undefined ? null : digitsOf(name, window.max), unitOf(name))}</dd>
              </div>
            ))}
          </dl>
        </section>
      )}
      <Preparation carriage={carriage} />
    </div>
  );
}
