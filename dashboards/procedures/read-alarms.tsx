import type { JSX } from 'preact';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { priorityWord, quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { noValue } from '../shared/format.js';
import { wordsOf } from '../shared/words.js';
import { textOrDefault } from './differences.js';
import { valueAt } from './draft.js';
import { Facts } from './facts.js';
import { fieldName } from './field-name.js';
import { alarmedNames, type AlarmedName } from '../../shared/weld/quantities.js';
import { alarmDefaults, alarmNames, monitoringOf, specOf } from './field-specs.js';
import { formWords } from './form-words.js';
import { NotMonitored } from './not-monitored.js';
import { partIds } from './page-parts.js';
import { metricText } from './value-text.js';

/** The settings by which limits are judged, and the priority and action of each alarm that the procedure can raise. */
export function ReadAlarms({ procedure }: { readonly procedure: Procedure }): JSX.Element {
  const say = wordsOf(formWords);
  const rows = alarmedNames.filter((name) => procedure.alarm?.windows?.[name] !== undefined || (monitoringOf(name) === 'along' && hasLimits(procedure, name)));
  return (
    <section class="part">
      <h2 id={partIds.alarms} tabIndex={-1}>{say.alarmPart}</h2>
      <Facts
        facts={alarmNames.map((name) => {
          const path = `alarm.${name}`;
          return { name: fieldName(path), text: textOrDefault(procedure, path), stored: metricText(specOf(path).quantity, procedure.alarm?.[name] ?? alarmDefaults[name]) };
        })}
      />
      {rows.length > 0 && (
        <table class="limit-table actions">
          <thead>
            <tr>
              <th scope="col">{say.quantity}</th>
              <th scope="col">{say.priorityLabel}</th>
              <th scope="col">{say.response}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((name) => {
              const { priority, response, responses } = procedure.alarm?.windows?.[name] ?? {};
              const texts = [response, responses?.zh, responses?.en].filter((text) => text !== undefined);
              return (
                <tr key={name}>
                  <th scope="row">{capital(quantityWord(name))} <NotMonitored name={name} /></th>
                  <td>{priority === undefined ? say.orDefault(priorityWord('medium')) : priorityWord(priority)}</td>
                  <td>{texts.length === 0 ? noValue : texts.map((text) => <p key={text}>{text}</p>)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
    </section>
  );
}

function hasLimits(procedure: Procedure, name: AlarmedName): boolean {
  return (procedure.runGroups ?? []).some((group) => valueAt(group, name) !== undefined || (group.arcs ?? []).some((arc) => valueAt(arc, name) !== undefined));
}
