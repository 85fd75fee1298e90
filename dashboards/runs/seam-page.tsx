import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { notJudgedText } from '../run/not-judged-text.js';
import { seamPositionOf } from '../run/run-places.js';
import { runStateNow } from '../run/run-state.js';
import { runTitle } from '../run/run-title.js';
import { viewAddress } from '../run/run-view.js';
import { writeAddress } from '../shared/address.js';
import { fetchRuns } from '../shared/api.js';
import { onRun, opened } from '../shared/live-feed.js';
import { Mark } from '../shared/mark.js';
import { formatDateTime, formatZone } from '../shared/times.js';
import { digitsOf, unitOf } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import './runs.css';
import { DataCell, HeatInputCell } from './run-cells.js';
import { runsWords } from './runs-words.js';

/** Every run of a seam, both sides, in the order in which they were laid: what an inspector asks of a joint. */
export function SeamPage({ seam }: { readonly seam: string }): JSX.Element {
  const say = wordsOf(runsWords);
  const runs = useSignal<readonly Run[] | null>(null);
  const failure = useSignal<string | null>(null);
  const times = opened.value;
  const title = say.seamTitle(seam);
  useEffect(() => {
    document.title = `${title} · Seamwarden`;
  }, [title]);
  useEffect(() => {
    const abort = new AbortController();
    const read = async (): Promise<void> => {
      try {
        const answer = await fetchRuns({ seam, limit: 1000 }, abort.signal);
        if (answer.ok) runs.value = answer.value.items;
        failure.value = answer.ok ? null : answer.failure.reason;
      } catch (error) {
        if (!abort.signal.aborted) throw error;
      }
    };
    void read();
    const stop = onRun((run) => {
      if (runs.peek() === null) return;
      const others = (runs.peek() ?? []).filter(({ id }) => id !== run.id);
      runs.value = run.seam === seam ? [...others, run] : others;
    });
    return () => {
      stop();
      abort.abort();
    };
  }, [seam, times]);
  const all = [...(runs.value ?? [])].sort((a, b) => (a.assignment?.side ?? 10) - (b.assignment?.side ?? 10) || (a.run ?? 0) - (b.run ?? 0) || (a.startedAt < b.startedAt ? -1 : 1));
  const sides = [...new Set(all.map((run) => run.assignment?.side ?? null))];
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1}>{title}</h1>
        <p class="aside">{runs.value === null ? (failure.value ?? say.asking) : all.length > 0 ? say.seamAside(all.length) : ''}</p>
        <a href={writeAddress(['runs'], { seam })}>{say.inList}</a>
      </div>
      {runs.value?.length === 0 && <p class="empty">{say.noRunsOfSeam(seam)}</p>}
      {sides.map((side) => (
        <section key={side ?? 0} class="seam-side">
          <h2>{side === null ? say.noSide : say.side(side)}</h2>
          <SideTable runs={all.filter((run) => (run.assignment?.side ?? null) === side)} />
        </section>
      ))}
    </>
  );
}

function SideTable({ runs }: { readonly runs: readonly Run[] }): JSX.Element {
  const say = wordsOf(runsWords);
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={say.runs()}>
      <table class="runs">
        <thead>
          <tr>
            <th scope="col">{say.run()}</th>
            <th scope="col">{say.state}</th>
            <th scope="col">{say.begun} <span class="unit">{formatZone(runs[0]?.startedAt ?? 0)}</span></th>
            <th scope="col">{say.carriage}</th>
            <th scope="col">{say.procedure}</th>
            <th scope="col" class="number">{say.onSeam(unitOf('seamPosition'))}</th>
            <th scope="col" class="number">{say.weldHeatInput} <span class="unit">{unitOf('heatInput')}</span></th>
            <th scope="col">{say.judgement}</th>
            <th scope="col">{say.data}</th>
            {runs.length > 1 && <th scope="col">{say.compare}</th>}
          </tr>
        </thead>
        <tbody>
          {runs.map((run, at) => <SideRow key={run.id} run={run} before={runs[at - 1] ?? null} comparable={runs.length > 1} />)}
        </tbody>
      </table>
    </div>
  );
}

function SideRow({ run, before, comparable }: { readonly run: Run; readonly before: Run | null; readonly comparable: boolean }): JSX.Element {
  const say = wordsOf(runsWords);
  const state = runStateNow(run);
  const why = notJudgedText(run);
  const ends = run.travelled === null ? null : [seamPositionOf(run, 0), seamPositionOf(run, run.travelled)].map((at) => digitsOf('seamPosition', at)).join('\u00a0…\u00a0');
  return (
    <tr class={run.excursions > 0 ? 'with-excursions' : undefined}>
      <th scope="row" data-label={say.run()}><a href={writeAddress(['run', run.id])}>{run.run}</a> {run.attempt > 1 && <span class="unit">{say.attempt(run.attempt)}</span>}</th>
      <td class="when" data-label={say.state}><Mark name={state.mark} /> {state.word}</td>
      <td class="when" data-label={say.begun}>{formatDateTime(run.startedAt)}</td>
      <td data-label={say.carriage}><span class="place">{run.carriage} <span class="unit">{run.site}</span></span></td>
      <td data-label={say.procedure}>{run.procedure === null ? (run.assignment?.procedure ?? '–') : <a href={writeAddress(['procedure', run.procedure.id], { revision: run.procedure.revision })}>{run.procedure.id}</a>}</td>
      <td class="number when" data-label={say.onSeam(unitOf('seamPosition'))}>{ends ?? '–'}</td>
      <HeatInputCell run={run} label={say.weldHeatInput} value={run.weldZone.heatInput} stale={false} />
      <td class={run.excursions > 0 ? 'out' : undefined} data-label={say.judgement}>
        {run.excursions > 0 ? <><Mark name="warning" /> {say.outside(run.excursions)}</> : why === null ? say.inside : say.notJudgedBecause(why)}
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
