import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { seamPositionOf } from '../run/run-places.js';
import { notJudgedText, runStateNow, runTitle } from '../run/run-text.js';
import { viewAddress } from '../run/run-view.js';
import { writeAddress } from '../shared/address.js';
import { fetchRuns } from '../shared/api.js';
import { NotRead, TableHead } from '../shared/list-parts.js';
import { onRun } from '../shared/live-feed.js';
import { Mark } from '../shared/mark.js';
import { PageHeading } from '../shared/page-heading.js';
import { formatDateTime, formatZone } from '../shared/times.js';
import { digitsOf, unitOf } from '../shared/units.js';
import { usePagedList, type PagedList } from '../shared/use-paged-list.js';
import './runs.css';
import { DataCell, HeatInputCell } from './run-cells.js';
import { runsWords } from './runs-words.js';

/** Every run of a seam, both sides, in the order in which they were laid: what an inspector asks of a joint. */
export function SeamPage({ seam }: { readonly seam: string }): JSX.Element {
  const say = runsWords();
  const list = useSeamRuns(seam);
  const runs = list.items ?? [];
  const sides = [...new Set(runs.map((run) => run.assignment?.side ?? null))];
  return (
    <>
      <PageHeading title={say.seamOf(seam)} aside={list.items === null ? (list.failure === null ? say.loading : '') : runs.length > 0 ? say.seamAside(runs.length) : ''}>
        <a href={writeAddress(['runs'], { seam })}>{say.inList}</a>
      </PageHeading>
      <NotRead of={list} />
      {list.items?.length === 0 && <p class="empty">{say.noRunsOfSeam(seam)}</p>}
      {sides.map((side) => (
        <section key={side ?? 0} class="seam-side">
          <h2>{side === null ? say.noSide : say.side(side)}</h2>
          <SideTable runs={runs.filter((run) => (run.assignment?.side ?? null) === side)} />
        </section>
      ))}
    </>
  );
}

function SideTable({ runs }: { readonly runs: readonly Run[] }): JSX.Element {
  const say = runsWords();
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={say.runsLabel()}>
      <table class="runs">
        <TableHead
          columns={[
            say.runLabel(), say.state,
            { name: say.begun, unit: formatZone(runs[0]?.startedAt ?? 0) },
            say.carriageLabel, say.procedure,
            { name: say.onSeam(unitOf('seamPosition')), number: true },
            { name: say.weldHeatInput, number: true, unit: unitOf('heatInput') },
            say.judgement, say.data,
            ...(runs.length > 1 ? [say.compare] : []),
          ]}
        />
        <tbody>
          {runs.map((run, at) => <SideRow key={run.id} run={run} before={runs[at - 1] ?? null} comparable={runs.length > 1} />)}
        </tbody>
      </table>
    </div>
  );
}

function SideRow({ run, before, comparable }: { readonly run: Run; readonly before: Run | null; readonly comparable: boolean }): JSX.Element {
  const say = runsWords();
  const state = runStateNow(run);
  const why = notJudgedText(run);
  const ends = run.travelled === null ? null : [seamPositionOf(run, 0), seamPositionOf(run, run.travelled)].map((at) => digitsOf('seamPosition', at)).join('\u00a0…\u00a0');
  return (
    <tr class={run.excursions > 0 ? 'with-excursions' : undefined}>
      <th scope="row" data-label={say.runLabel()}><a href={writeAddress(['run', run.id])}>{run.run}</a> {run.attempt > 1 && <span class="unit">{say.attempt(run.attempt)}</span>}</th>
      <td class="when" data-label={say.state}><Mark name={state.mark} /> {state.word}</td>
      <td class="when" data-label={say.begun}>{formatDateTime(run.startedAt)}</td>
      <td data-label={say.carriageLabel}><span class="place">{run.carriage} <span class="unit">{run.site}</span></span></td>
      <td data-label={say.procedure}>{run.procedure === null ? (run.assignment?.procedure ?? '–') : <a href={writeAddress(['procedure', run.procedure.id], { revision: run.procedure.revision })}>{run.procedure.id}</a>}</td>
      <td class="number when" data-label={say.onSeam(unitOf('seamPosition'))}>{ends ?? '–'}</td>
      <HeatInputCell run={run} label={say.weldHeatInput} value={run.weldZone.heatInput} stale={false} />
      <td class={run.excursions > 0 ? 'out' : undefined} data-label={say.judgement}>
        {run.excursions > 0 ? <><Mark name="warning" /> {say.excursionCount(run.excursions)}</> : why === null ? say.inside : say.notJudgedBecause(why)}
      </td>
      <DataCell run={run} />
      {comparable && (
        <td data-label={say.compare}>
          {before === null ? '–' : <a href={viewAddress(run.id, { axis: 'seamPosition', from: null, to: null, compared: before.id })}>{say.compareWith(runTitle(before))}</a>}
        </td>
      )}
    </tr>
  );
}

/** More than any seam has. */
const pageSize = 1000;

/** The runs of a seam, one side after the other, in the order in which they were laid; runs without a side are last. */
function useSeamRuns(seam: string): PagedList<Run> {
  return usePagedList(
    {
      ask: async (page, signal) => await fetchRuns({ seam, ...page }, signal),
      pageSize,
      hear: onRun,
      fits: (run) => run.seam === seam,
      order: (a, b) => (a.assignment?.side ?? 10) - (b.assignment?.side ?? 10) || (a.run ?? 0) - (b.run ?? 0) || (a.startedAt < b.startedAt ? -1 : a.startedAt > b.startedAt ? 1 : 0),
    },
    [seam],
  );
}
