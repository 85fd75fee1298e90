import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Run } from '../../shared/api-types/run.js';
import { nextJob, sameRun } from '../job/next-job.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { fetchRuns } from '../shared/api.js';
import { unitSystem } from '../shared/choices.js';
import { FactList } from '../shared/fact-list.js';
import { opened } from '../shared/live-feed.js';
import { Mark } from '../shared/mark.js';
import { seamAndRun } from '../shared/common-words.js';
import { formatAge } from '../shared/times.js';
import { serverNow } from '../shared/now.js';
import { shown, unitOf } from '../shared/units.js';
import { capital } from '../shared/words.js';
import { limitDigits } from '../shared/live-text.js';
import { useAnswer } from '../shared/use-answer.js';
import type { SheetName } from './sheet.js';
import { stationLimits } from './station-quantities.js';
import { hasPlateState, PlateState } from './plate-state.js';
import { stationWords } from './station-words.js';
import { temperatureWords } from './temperature-words.js';
import { useJobWrites } from './use-job-writes.js';

interface BetweenProps { readonly carriage: Carriage; readonly signer: string; readonly show: (sheet: SheetName) => void }

/** While no arc burns: asks what comes next, which one press answers, and shows the job with its limits. */
export function BetweenRuns({ carriage, signer, show }: BetweenProps): JSX.Element {
  const say = stationWords();
  const { assignment } = carriage;
  const limits = stationLimits(carriage);
  return (
    <div class="between">
      <WhatNext carriage={carriage} signer={signer} show={show} />
      {hasPlateState(carriage) && (
        <section>
          <h2>{temperatureWords().title}</h2>
          <div class="plate-row">
            <PlateState carriage={carriage} />
            <button type="button" class="push" onClick={() => { show('temperature'); }}>{temperatureWords().enter}</button>
          </div>
        </section>
      )}
      {assignment !== null && <section><h2>{say.assignment}</h2><FactList look="facts" facts={assignmentEntries(assignment)} /></section>}
      {limits.length > 0 && (
        <section>
          <h2>{say.permitted}</h2>
          <FactList
            look="facts"
            facts={limits.map(({ name, arc, window }) => [
              capital(arc === null ? quantityWord(name) : say.arc(quantityWord(name), arc)),
              say.range(window.min === undefined ? null : limitDigits(name, window.min), window.max === undefined ? null : limitDigits(name, window.max), unitOf(name)),
            ])}
          />
        </section>
      )}
    </div>
  );
}

function WhatNext({ carriage, signer, show }: BetweenProps): JSX.Element {
  const say = stationWords();
  const { assignment, run, outlook, arcOutSince } = carriage;
  const writes = useJobWrites(carriage, signer);
  const newest = useNewestRun(carriage);
  /** The run that somebody said goes on. */
  const goesOn = useSignal<string | null>(null);
  const last = assignment ?? newest?.assignment ?? null;
  const next = last === null ? null : nextJob(last, outlook?.wire);
  const open = run ?? (assignment !== null && newest != null && sameRun(newest.assignment, assignment) ? newest.id : null);
  const give = (job: AssignmentAnswer): void => { void writes.give(job).then((taken) => { if (taken) show('checks'); }); };
  const out = arcOutSince == null ? null : formatAge(serverNow.value - Date.parse(arcOutSince));
  const asks = open !== null && goesOn.value !== open;
  return (
    <section class="what-next" aria-label={say.whatNext}>
      <p class="what-next-text" role="status">
        {assignment === null ? say.noJob : asks ? say.askNext(seamAndRun(assignment), out) : open === null ? say.ready(seamAndRun(assignment)) : say.goesOn(seamAndRun(assignment))}
      </p>
      <div class="pushes">
        {(asks || assignment === null) && next !== null && (
          <button type="button" class="push push-first" disabled={writes.sending} onClick={() => { give(next); }}>
            {say.nextRun()}
            <small>{seamAndRun(next)}</small>
          </button>
        )}
        {asks && (
          <>
            <button type="button" class="push" onClick={() => { goesOn.value = open; }}>{say.sameRunRestart()}</button>
            <button type="button" class="push" disabled={writes.sending} onClick={() => { void writes.end(); }}>{say.runFinished()}</button>
          </>
        )}
        {!asks && open !== null && <button type="button" class="push" onClick={() => { goesOn.value = null; }}>{say.undo}</button>}
        {open === null && assignment !== null && (
          <button type="button" class="push" disabled={writes.sending} onClick={() => { void writes.end(); }}>{say.endJob}</button>
        )}
        <button type="button" class="push" onClick={() => { show('job'); }}>{assignment === null ? say.giveJob : say.otherJob}</button>
      </div>
      {writes.failure !== null && <p role="alert" class="alarm-failed"><Mark name="warning" /> {say.notSavedTryAgain(writes.failure)}</p>}
    </section>
  );
}

/** Whether the carriage may have begun its next run without anybody having said so. */
export function asksElsewhere(carriage: Carriage, answered: string | null): boolean {
  return carriage.litElsewhere === true && carriage.run !== null && carriage.run !== answered;
}

/** The arc was struck far from where it went out. Asks whether that is the next run, which would then begin where the arc was struck. */
export function ElsewhereQuestion({ carriage, signer, answered }: { readonly carriage: Carriage; readonly signer: string; readonly answered: () => void }): JSX.Element | null {
  const say = stationWords();
  const writes = useJobWrites(carriage, signer);
  const next = carriage.assignment === null ? null : nextJob(carriage.assignment, carriage.outlook?.wire);
  if (next === null) return null;
  const { runStartedAt = null } = carriage;
  return (
    <div class="elsewhere">
      <p class="alarm-what"><Mark name="warning" /> {say.elsewhere(seamAndRun(next))}</p>
      <div class="pushes">
        <button type="button" class="push push-first" disabled={writes.sending} onClick={() => { void writes.give(runStartedAt === null ? next : { ...next, time: runStartedAt }); }}>
          {say.isNextRun(String(next.run))}
        </button>
        <button type="button" class="push" onClick={answered}>{say.isSameRun()}</button>
      </div>
      {writes.failure !== null && <p class="alarm-failed">{say.notSavedTryAgain(writes.failure)}</p>}
    </div>
  );
}

/** The carriage's newest run, open or finished; null if there is none, undefined while it is requested. It is requested again whenever a run begins or ends. */
function useNewestRun({ site, carriage, run, welding }: Carriage): Run | null | undefined {
  const { value, failure } = useAnswer(welding ? null : async (signal) => await fetchRuns({ site, carriage, limit: 1 }, signal), [site, carriage], { by: [opened.value, run, welding] });
  return value === null && failure === null ? undefined : (value?.items[0] ?? null);
}

/** An assignment as names and values, for the person who sets up the carriage. */
function assignmentEntries(assignment: AssignmentAnswer): readonly (readonly [string, string])[] {
  const say = stationWords();
  const length = (value: number | undefined): string | undefined => (value === undefined ? undefined : shown('length', value));
  const wires = (assignment.arcs ?? []).flatMap(({ arc, wireDiameter, wireLot }) => {
    const words = [wireDiameter === undefined ? null : shown('wireDiameter', wireDiameter), wireLot ?? null].filter((word) => word !== null);
    return words.length === 0 ? [] : [say.wireOf(arc, words.join(', ')).replaceAll(' ', '\u00a0')];
  });
  const entries: readonly (readonly [string, string | undefined])[] = [
    [say.seam, assignment.seam],
    [unitSystem.value === 'us' ? say.pass : say.run, String(assignment.run)],
    [say.procedure, assignment.procedure],
    [say.length, length(assignment.seamLength)],
    [say.thickness, assignment.thickness === undefined ? undefined : shown('wireDiameter', assignment.thickness)],
    [say.sideLabel, assignment.side === undefined ? undefined : String(assignment.side)],
    [say.datum, assignment.datum],
    [say.startOffset, length(assignment.startOffset)],
    [say.wire, wires.length === 0 ? undefined : wires.join('; ')],
    [say.fluxLot, assignment.fluxLot],
    [say.operator, assignment.operator],
  ];
  return entries.flatMap(([name, value]) => (value === undefined ? [] : [[name, value] as const]));
}
