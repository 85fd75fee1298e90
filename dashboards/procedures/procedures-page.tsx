import type { JSX } from 'preact';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { EmptyList, MoreButton, NotRead, TableHead } from '../shared/list-parts.js';
import { PageHeading } from '../shared/page-heading.js';
import { formatClock, formatDateTime, formatZone } from '../shared/times.js';
import { usePagedList } from '../shared/use-paged-list.js';
import { formWords } from './form-words.js';
import { fetchProcedures } from './procedure-api.js';
import { newestAddress } from './procedure-address.js';
import { procedureWords } from './procedure-words.js';
import './procedures.css';

const pageSize = 100;

/** The newest revision of every procedure, those revised last first. */
export function ProceduresPage(): JSX.Element {
  const say = procedureWords();
  const list = usePagedList<Procedure>({ ask: fetchProcedures, pageSize, hear: null, fits: () => true, order: null }, []);
  const { items: procedures, hasMore, failure, givenAt } = list;
  return (
    <>
      <PageHeading
        title={say.list}
        aside={procedures === null ? (failure === null ? say.loading : '') : procedures.length === 0 ? '' : say.counted(procedures.length, hasMore, formatClock(givenAt))}
      >
        {procedures !== null && procedures.length > 0 && <a class="action" href="#/procedure">{say.newProcedure}</a>}
      </PageHeading>
      <NotRead of={list} />
      {procedures?.length === 0 && (
        <EmptyList title={say.none}><p>{say.noneMore()}</p><p><a class="action" href="#/procedure">{say.noneStart}</a></p></EmptyList>
      )}
      {procedures !== null && procedures.length > 0 && <ProcedureTable procedures={procedures} />}
      <MoreButton list={list}>{say.older}</MoreButton>
    </>
  );
}

function ProcedureTable({ procedures }: { readonly procedures: readonly Procedure[] }): JSX.Element {
  const say = procedureWords();
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={say.list}>
      <table class="procedure-list">
        <TableHead columns={[say.procedure, say.columnRevision, say.columnGroups(), say.columnBy, { name: say.columnWhen, unit: formatZone(procedures[0]?.createdAt ?? 0) }]} />
        <tbody>
          {procedures.map((procedure) => (
            <tr key={procedure.id}>
              <th scope="row">
                <a href={newestAddress(procedure)}>{procedure.id}</a>
                {procedure.title !== undefined && <span class="title">{procedure.title}</span>}
              </th>
              <td data-title={say.columnRevision}>{procedure.revision}</td>
              <td data-title={say.columnGroups()}><GroupNames groups={procedure.runGroups ?? []} /></td>
              <td data-title={say.columnBy}>{procedure.by}</td>
              <td class="when" data-title={say.columnWhen}>{formatDateTime(procedure.createdAt)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The groups and the runs they cover: "first side: run 1", "second side: runs 2 to 3". */
function GroupNames({ groups }: { readonly groups: NonNullable<Procedure['runGroups']> }): JSX.Element {
  const say = formWords();
  if (groups.length === 0) return <span class="none">{procedureWords().noGroups}</span>;
  return (
    <ul class="group-names">
      {groups.map(({ name, runs: [first = 0, last = 0] }, at) => (
        <li key={at}>{name === undefined ? '' : `${name}: `}{say.coveredRuns(first, last)}</li>
      ))}
    </ul>
  );
}
