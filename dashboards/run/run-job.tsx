import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { JobForm } from '../job/job-form.js';
import { writeAddress } from '../shared/address.js';
import { FactList, type Fact } from '../shared/fact-list.js';
import { shown, type ShownQuantity } from '../shared/units.js';
import { absentText, whyAbsent } from './figures/absent-text.js';
import { runWords } from './run-words.js';
import { windowWords } from './windows/window-words.js';

interface RunJobProps { readonly run: Run; readonly onRun: (run: Run) => void }

/** The job of a run. A finished run can be given a job, or another one, by a person who signs and gives a reason. */
export function RunJob({ run, onRun }: RunJobProps): JSX.Element {
  const say = runWords();
  const open = useSignal(false);
  const first = run.assignment === null;
  return (
    <section id="job" tabIndex={-1} class={open.value ? 'wide' : undefined}>
      <h2>{say.assignment}</h2>
      {open.value ? (
        <>
          <p class="aside">{say.assignHint()}</p>
          <JobForm
            target={{ run: run.id }}
            start={run.assignment}
            asksWhy={!first}
            by={null}
            onSaved={(saved) => {
              open.value = false;
              if ('startedAt' in saved) onRun(saved);
            }}
            onCancel={() => { open.value = false; }}
          />
        </>
      ) : (
        <>
          <AssignmentList run={run} />
          {run.state === 'finished' && <p class="no-print"><button type="button" onClick={() => { open.value = true; }}>{first ? say.assign : say.correct}</button></p>}
        </>
      )}
    </section>
  );
}

type Assignment = NonNullable<Run['assignment']>;

/** The assignment of the run, as it was sent. */
function AssignmentList({ run }: { readonly run: Run }): JSX.Element {
  const say = runWords();
  const own = run.assignment;
  return (
    <>
      {own === null ? (
        <p class="none">{say.noAssignment()}</p>
      ) : (
        <FactList look="run-facts" facts={facts(run, own).filter(([, value]) => value !== null)} />
      )}
    </>
  );
}

function facts(run: Run, own: Assignment): Fact[] {
  const say = runWords();
  const size = (value: number | undefined, name: ShownQuantity = 'fineLength'): string | null => (value === undefined ? null : shown(name, value));
  const tabs = own.runOn === undefined && own.runOff === undefined ? null : `${shown('fineLength', own.runOn)} · ${shown('fineLength', own.runOff)}`;
  return [
    [say.seam, <a href={writeAddress(['seam', own.seam])}>{own.seam}</a>],
    [say.runLabel(), String(own.run)],
    [say.procedure, procedureText(run, own)],
    [say.purpose, own.purpose === undefined ? null : say[own.purpose]],
    [say.seamLength, size(own.seamLength)],
    [say.thickness, size(own.thickness)],
    [say.sideLabel, own.side === undefined ? null : String(own.side)],
    [say.datum, own.datum ?? null],
    [say.startOffset, size(own.startOffset)],
    [say.direction, own.direction === undefined ? null : own.direction === 1 ? say.away : say.towards],
    [say.tabs, tabs],
    [say.motion, own.motion === undefined ? null : say[own.motion]],
    [say.diameter, size(own.diameter)],
    [say.turnIsRun(), own.turnIsRun === true ? (own.lastRun === undefined ? say.nextRun() : say.nextRunTo(own.lastRun)) : null],
    [say.preheat, size(own.preheat, 'temperature')],
    [say.operator, own.operator ?? null],
    [say.fluxLot, own.fluxLot ?? null],
    ...(own.arcs ?? []).map((arc) => [say.wire(arc.arc), wireText(arc)] as const),
  ];
}

function procedureText(run: Run, own: Assignment): JSX.Element | string | null {
  const { procedure } = run;
  if (procedure !== null) return <a href={writeAddress(['procedure', procedure.id], { revision: procedure.revision })}>{windowWords().revision(procedure.id, procedure.revision)}</a>;
  return own.procedure === undefined ? null : absentText(whyAbsent(run, 'procedure') ?? own.procedure);
}

function wireText(arc: { readonly wireDiameter?: number | undefined; readonly electrodeExtension?: number | undefined; readonly wireLot?: string | undefined }): string {
  const say = runWords();
  const parts: string[] = [];
  if (arc.wireDiameter !== undefined) parts.push(say.diameterOfWire(shown('wireDiameter', arc.wireDiameter)));
  if (arc.electrodeExtension !== undefined) parts.push(say.extension(shown('electrodeExtension', arc.electrodeExtension)));
  if (arc.wireLot !== undefined) parts.push(say.lot(arc.wireLot));
  return parts.length === 0 ? say.nothingStated : say.joined(parts);
}
