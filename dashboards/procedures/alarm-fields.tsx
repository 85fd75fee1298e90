import type { JSX } from 'preact';
import { useContext } from 'preact/hooks';
import { priorityWord, quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { wordsOf } from '../shared/words.js';
import { alarmDefaults, alarmNames, alarmedWindows, specOf } from './field-specs.js';
import { Choice, Field, Input } from './fields.js';
import { FormContext } from './form-context.js';
import type { Section } from './form-context.js';
import { formWords } from './form-words.js';
import { valueText } from './value-text.js';

/** Delays, lengths, and for each window how urgent its alarm is and what is to be done. */
export function AlarmFields({ section }: { readonly section: Section }): JSX.Element {
  const { readOnly } = useContext(FormContext);
  const say = wordsOf(formWords);
  const priorities = [['', say.priorityDefault], ['high', priorityWord('high')], ['medium', priorityWord('medium')], ['low', priorityWord('low')]] as const;
  const rows = readOnly ? alarmedWindows.filter((name) => section.fields[`alarm.windows.${name}.priority`] !== undefined || section.fields[`alarm.windows.${name}.response`] !== undefined) : alarmedWindows;
  return (
    <section class="part">
      <h2>{say.alarms}</h2>
      <p class="aside">{say.alarmsHint}</p>
      <div class="fields">
        {alarmNames.map((name) => (
          <Field key={name} section={section} name={`alarm.${name}`} label={say[name]} hint={say.ifEmpty(valueText(specOf(name).quantity, alarmDefaults[name]))} />
        ))}
      </div>
      {rows.length > 0 && (
        <table class="windows responses">
          <thead>
            <tr>
              <th scope="col">{say.quantity}</th>
              <th scope="col">{say.priority}</th>
              <th scope="col">{say.response}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((name) => (
              <tr key={name}>
                <th scope="row">{capital(quantityWord(name))}</th>
                <td>
                  <Choice inTable section={section} name={`alarm.windows.${name}.priority`} label={say.priorityOf(capital(quantityWord(name)))} choices={priorities} />
                </td>
                <td>
                  <Input section={section} name={`alarm.windows.${name}.response`} label={say.responseOf(capital(quantityWord(name)))} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
