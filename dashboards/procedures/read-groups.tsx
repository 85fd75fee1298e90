import type { JSX } from 'preact';
import type { ProcedureBody } from '../../shared/api-types/procedure.js';
import { textOrDefault } from './differences.js';
import { valueAt } from './draft.js';
import { Facts, type Fact } from './facts.js';
import { fieldName, groupTitle, limitName, plainText } from './field-name.js';
import { arcLimitNames, runLimitNames } from '../../shared/weld/quantities.js';
import { TableHead } from '../shared/list-parts.js';
import { noValue, unitOf } from '../shared/units.js';
import { entryText, givenNumber } from './entry.js';
import { arcNames, limitQuantity, shapeNames, specOf, type WindowName } from './field-specs.js';
import { formWords } from './form-words.js';
import { NotMonitored } from './not-monitored.js';
import { groupPart, partIds } from './contents.js';
import { metricText } from './value-text.js';

type Group = NonNullable<ProcedureBody['runGroups']>[number];
type Arc = NonNullable<Group['arcs']>[number];

/** The limits of each run group, as tables. */
export function ReadGroups({ groups }: { readonly groups: readonly Group[] }): JSX.Element {
  const say = formWords();
  return (
    <section class="part">
      <h2 id={partIds.groups} tabIndex={-1}>{say.runGroups()}</h2>
      <p class="aside">{groups.length === 0 ? say.noGroups() : say.firstGroup()}</p>
      {groups.map((group, at) => <ReadGroup key={at} group={group} at={at} />)}
    </section>
  );
}

function ReadGroup({ group, at }: { readonly group: Group; readonly at: number }): JSX.Element {
  const say = formWords();
  const [first = 0, last = 0] = group.runs;
  const shapes = shapeNames.filter((name) => valueAt(group, name) !== undefined).map((name): Fact => ({ name: fieldName(name), text: plainText(group, name) }));
  return (
    <section class="group">
      <h3 id={groupPart(at)} tabIndex={-1}>{groupTitle(group.name ?? '', at)}</h3>
      <Facts facts={[{ name: say.runs(), text: say.runsText(first, last) }, { name: say.sideLabel, text: textOrDefault(group, 'side') }, ...shapes]} />
      <LimitTable limits={group} names={runLimitNames} caption={say.windows} />
      <div class="arcs">{group.arcs?.map((arc) => <ReadArc key={arc.arc} arc={arc} />)}</div>
    </section>
  );
}

function ReadArc({ arc }: { readonly arc: Arc }): JSX.Element {
  const say = formWords();
  const facts: Fact[] = arcNames
    .filter((name) => name !== 'arc' && valueAt(arc, name) !== undefined)
    .map((name) => {
      const value = valueAt(arc, name);
      return { name: fieldName(name), text: plainText(arc, name), stored: typeof value === 'number' ? metricText(specOf(name).quantity, value) : null };
    });
  return (
    <section class="arc">
      <h4>{say.arcOf(String(arc.arc))}</h4>
      {facts.length > 0 && <Facts facts={facts} />}
      <LimitTable limits={arc} names={arcLimitNames} caption={say.arcWindows} />
    </section>
  );
}

interface Limits { readonly min?: number | undefined; readonly max?: number | undefined }

/** The limits that are given, to be read. */
function LimitTable({ limits, names, caption }: {
  readonly limits: Readonly<Partial<Record<WindowName, Limits | undefined>>>;
  readonly names: readonly WindowName[];
  readonly caption: string;
}): JSX.Element {
  const say = formWords();
  const given = names.filter((name) => limits[name] !== undefined);
  if (given.length === 0) return <p class="none">{say.noneOf(caption)}</p>;
  return (
    <table class="limit-table">
      <caption>{caption}</caption>
      <TableHead columns={[say.quantity, { name: say.lowest, number: true }, { name: say.highest, number: true }, say.unit]} />
      <tbody>
        {given.map((name) => {
          const quantity = limitQuantity(name);
          return (
            <tr key={name}>
              <th scope="row">{limitName(name)} <NotMonitored name={name} /></th>
              {(['min', 'max'] as const).map((end) => <td key={end} class="number"><Limit name={name} value={limits[name]?.[end]} /></td>)}
              <td class="unit">{quantity === null ? '' : unitOf(quantity)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function Limit({ name, value }: { readonly name: WindowName; readonly value: number | undefined }): JSX.Element {
  const quantity = limitQuantity(name);
  const stored = metricText(quantity, value);
  return (
    <>
      {value === undefined ? noValue : entryText(givenNumber(value), quantity).replace('-', '\u2212')}
      {stored !== null && <span class="stored">{stored}</span>}
    </>
  );
}
