import { signal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { alarmedNames, type AlarmedName } from '../../shared/weld/quantities.js';
import { capabilityWords } from '../capability/capability-words.js';
import { writeAddress } from '../shared/address.js';
import { priorityWord, quantityWord } from '../shared/alarm-sentence.js';
import { TableHead } from '../shared/list-parts.js';
import { noValue } from '../shared/units.js';
import { Mark } from '../shared/mark.js';
import { formatDateTime } from '../shared/times.js';
import { capital } from '../shared/words.js';
import { CompareRevisions } from './compare-revisions.js';
import { Contents, groupPart, partIds } from './contents.js';
import { textOrDefault, windowText } from './differences.js';
import { valueAt } from './draft.js';
import { Facts, type Fact } from './facts.js';
import { fieldName, groupTitle, limitName, plainText } from './field-name.js';
import { alarmDefaults, alarmNames, generalNames, limitQuantity, materialNames, monitoringOf, specOf, topRanges } from './field-specs.js';
import { formWords } from './form-words.js';
import { NotMonitored } from './not-monitored.js';
import { copyAddress, procedureAddress } from './procedure-address.js';
import './procedure-sheet.css';
import { procedureWords } from './procedure-words.js';
import { ReadGroups } from './read-groups.js';
import { RevisionList, usedRuns, useUsage } from './revision-list.js';
import { metricText, windowMetric } from './value-text.js';

/** One revision as a sheet to be read, with what it changed and every other revision. */
export function ReadProcedure({ newest, shown, against }: { readonly newest: Procedure; readonly shown: Procedure; readonly against: number | null }): JSX.Element {
  const say = procedureWords();
  const words = formWords();
  const usage = useUsage(shown.id);
  const isNewest = shown.revision === newest.revision;
  const { id } = shown;
  useEffect(
    () => () => {
      // The page of another revision may be shown for a moment while the saved one is fetched.
      if (justSaved.value?.revision === shown.revision) justSaved.value = null;
    },
    [],
  );
  const groups = shown.runGroups ?? [];
  return (
    <>
      <p role="status" class="saved">
        {justSaved.value?.id === id && justSaved.value.revision === shown.revision && <><Mark name="full" /> {say.saved(shown.revision)}</>}
      </p>
      {!isNewest && <p class="older">{say.older2(newest.revision)} <a href={procedureAddress(id)}>{say.viewLatest}</a></p>}
      <p class="tools">
        <a class="action" href={procedureAddress(id, { edit: 'yes' })}>{isNewest ? say.edit : say.editLatest(newest.revision)}</a>
        <a class="action" href={copyAddress(id, shown.revision)}>{say.copy}</a>
        <a class="action" href={writeAddress(['capability'], { procedure: id })}>{capabilityWords().toCapability}</a>
        {usage !== null && <UsedBy id={id} runs={usedRuns(usage, null)} />}
      </p>
      <div class="with-contents">
        <Contents
          parts={[
            { id: partIds.general, name: words.general },
            { id: partIds.groups, name: words.runGroups() },
            ...groups.map(({ name = '' }, at) => ({ id: groupPart(at), name: groupTitle(name, at), below: true })),
            { id: partIds.alarms, name: words.alarmPart },
            { id: partIds.compare, name: say.compare },
            { id: partIds.revisions, name: say.revisions },
          ]}
        />
        <div class="procedure reading-sheet">
          <ReadGeneral procedure={shown} />
          <ReadGroups groups={groups} />
          <ReadAlarms procedure={shown} />
          <CompareRevisions newest={newest.revision} shown={shown} against={against} />
          <RevisionList newest={newest} shown={shown.revision} usage={usage} />
        </div>
      </div>
    </>
  );
}

function UsedBy({ id, runs }: { readonly id: string; readonly runs: number }): JSX.Element {
  const text = procedureWords().usedByAll(runs);
  return runs === 0 ? <span class="aside">{text}</span> : <a href={writeAddress(['runs'], { procedure: id })}>{text}</a>;
}

/** The general data, material and joint of a revision. Fields that are left out are not listed, except for those with a default. */
function ReadGeneral({ procedure }: { readonly procedure: Procedure }): JSX.Element {
  const say = procedureWords();
  const given = (names: readonly string[]): Fact[] => names.filter((name) => valueAt(procedure, name) !== undefined).map((name) => ({ name: fieldName(name), text: plainText(procedure, name) }));
  return (
    <section class="part">
      <h2 id={partIds.general} tabIndex={-1}>{formWords().general}</h2>
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

/** The settings by which limits are judged, and the priority and action of each alarm that the procedure can raise. */
function ReadAlarms({ procedure }: { readonly procedure: Procedure }): JSX.Element {
  const say = formWords();
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
          <TableHead columns={[say.quantity, say.priorityLabel, say.response]} />
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

/** The revision that was saved last; the page of that revision says so until it is left. */
export const justSaved = signal<Procedure | null>(null);
