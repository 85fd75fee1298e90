import { wordsOf } from '../shared/words.js';
import { localName, specOf } from './field-specs.js';
import type { Reason } from './field-problem.js';
import { procedureWords } from './procedure-words.js';
import { valueText } from './value-text.js';

/** What is wrong at an input, in the chosen language and unit. */
export function reasonText(reason: Reason, path: string): string {
  const say = wordsOf(procedureWords);
  const { quantity } = specOf(localName(path));
  switch (reason.is) {
    case 'atLeast':
    case 'moreThan':
    case 'atMost':
      return say[reason.is](valueText(quantity, reason.limit));
    case 'tooLong':
    case 'tooMany':
      return say[reason.is](reason.limit);
    case 'said':
      return say.serviceSays(reason.text.replace(/\.$/, ''));
    case 'needed':
      if (path === 'id') return say.idNeeded;
      return path === 'by' ? say.nameNeeded : say.required;
    default:
      return say[reason.is];
  }
}
