import type { JSX } from 'preact';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { formatDateTime } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { textOrDefault, windowText } from './differences.js';
import { valueAt } from './draft.js';
import { Facts, type Fact } from './facts.js';
import { fieldName, limitName, plainText } from './field-name.js';
import { generalNames, limitQuantity, materialNames, topRanges } from './field-specs.js';
import { formWords } from './form-words.js';
import { partIds } from './page-parts.js';
import { procedureWords } from './procedure-words.js';
import { windowMetric } from './value-text.js';

/** The general data, material and joint of a revision. Fields that are left out are not listed, except for those with a default. */
export function ReadGeneral({ procedure }: { readonly procedure: Procedure }): JSX.Element {
  const say = wordsOf(procedureWords);
  const given = (names: readonly string[]): Fact[] => names.filter((name) => valueAt(procedure, name) !== undefined).map((name) => ({ name: fieldName(name), text: plainText(procedure, name) }));
  return (
    <section class="part">
      <h2 id={partIds.general} tabIndex={-1}>{wordsOf(formWords).general}</h2>
      <Facts
        facts={[
          { name: fieldName('id'), text: procedure.id },
          ...given(generalNames.filter((name) => name !== 'thermalEfficiency')),
          { name: fieldName('thermalEfficiency'), text: textOrDefault(procedure, 'thermalEfficiency') },
          ...given(materialNames),
          ...topRanges.flatMap((name) => {
            const range = procedure[name];
            return range === undefined ? [] : [{ name: limitName(name), text: windowText(name, range), stored: windowMetric(limitQuantity(name), range) }];
          }),
          { name: say.revision(procedure.revision), text: say.madeBy(procedure.by, formatDateTime(procedure.createdAt)) },
          ...(procedure.reason === undefined ? [] : [{ name: say.reason, text: procedure.reason }]),
        ]}
      />
    </section>
  );
}
