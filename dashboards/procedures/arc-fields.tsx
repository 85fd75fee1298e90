import type { JSX } from 'preact';
import { unitSystem } from '../shared/choices.js';
import { wordsOf } from '../shared/words.js';
import { arcLimitNames } from '../../shared/weld/quantities.js';
import { Choice, Field } from './fields.js';
import type { Section } from './form-context.js';
import { formWords } from './form-words.js';
import { entryText, noEntry } from './entry.js';
import { WindowTable } from './window-table.js';

/** One arc of a run group. */
export function ArcFields({ section, onRemove }: { readonly section: Section; readonly onRemove: () => void }): JSX.Element {
  const say = wordsOf(formWords);
  const name = say.arcOf(entryText(section.fields['arc'] ?? noEntry, null));
  return (
    <fieldset class="arc">
      <legend>{name}</legend>
      <div class="fields">
        <Field section={section} name="arc" label={say.arc} />
        <Choice section={section} name="currentType" label={say.currentType} choices={[['', say.notGiven], ['DC', say.DC], ['AC', say.AC]]} />
        <Choice section={section} name="polarity" label={say.polarity} choices={[['', say.notGiven], ['EP', say.EP], ['EN', say.EN]]} />
        <Field section={section} name="wireDiameter" label={say.wireDiameter} hint={unitSystem.value === 'us' ? say.wireDiameterHint : undefined} />
        <Field section={section} name="wireClassification" label={say.wireClassification} hint={say.wireClassificationHint} />
        <Field section={section} name="wires" label={say.wires} />
        <Field section={section} name="offset" label={say.offset} />
      </div>
      <WindowTable section={section} names={arcLimitNames} caption={say.arcWindows} />
      <p class="tools"><button type="button" onClick={onRemove} aria-label={say.removeNamed(name)}>{say.remove}</button></p>
    </fieldset>
  );
}
