import type { JSX } from 'preact';
import { priorityWord, quantityWord } from '../shared/alarm-sentence.js';
import { language } from '../shared/choices.js';
import { capital } from '../shared/words.js';
import { alarmedNames } from '../../shared/weld/quantities.js';
import { TableHead } from '../shared/list-parts.js';
import { alarmDefaults, alarmNames, specOf } from './field-specs.js';
import { Choice, Field, SentenceInput, type Section } from './fields.js';
import { formWords } from './form-words.js';
import { NotMonitored } from './not-monitored.js';
import { partIds } from './contents.js';
import { valueText } from './value-text.js';

/** Delays, lengths, and for each quantity how urgent its alarm is and what the operator is to do. */
export function AlarmFields({ section }: { readonly section: Section }): JSX.Element {
  const say = formWords();
  return (
    <section class="part">
      <h2 id={partIds.alarms} tabIndex={-1}>{say.alarmPart}</h2>
      <p class="aside">{say.alarmsHint}</p>
      <div class="fields">
        {alarmNames.map((name) => (
          <Field key={name} section={section} name={`alarm.${name}`} label={say[name]} hint={say.ifEmpty(valueText(specOf(name).quantity, alarmDefaults[name]))} />
        ))}
      </div>
      <ActionTable section={section} />
    </section>
  );
}

/** The action in the language in which it was written, and in the other languages of the pages. */
function ActionTable({ section }: { readonly section: Section }): JSX.Element {
  const say = formWords();
  const priorities = [['', say.priorityDefault], ['high', priorityWord('high')], ['medium', priorityWord('medium')], ['low', priorityWord('low')]] as const;
  const english = language.value === 'zh' || alarmedNames.some((name) => (section.fields[`alarm.windows.${name}.responses.en`]?.text ?? '') !== '');
  const columns = [['response', say.response], ['responses.zh', say.responseZh], ...(english ? [['responses.en', say.responseEn] as const] : [])] as const;
  return (
    <table class="windows responses">
      <TableHead columns={[say.quantity, say.priorityLabel, ...columns.map(([, title]) => title)]} />
      <tbody>
        {alarmedNames.map((name) => {
          const label = capital(quantityWord(name));
          return (
            <tr key={name}>
              <th scope="row">{label} <NotMonitored name={name} /></th>
              <td class="priority">
                <Choice inTable section={section} name={`alarm.windows.${name}.priority`} label={say.priorityOf(label)} choices={priorities} />
              </td>
              {columns.map(([part, title]) => (
                <td key={part} data-title={title}>
                  <SentenceInput section={section} name={`alarm.windows.${name}.${part}`} label={say.actionOf(label, title)} />
                </td>
              ))}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
