import { useRef, useState } from 'preact/hooks';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { enterPreparation, type PreparationChange } from '../../shared/weld/preparation/enter-preparation.js';
import { askedPreparation, type AskedEntry } from '../../shared/weld/preparation/preparation.js';
import { runGroupOf } from '../../shared/weld/procedure/procedure-parameters.js';
import { fetchRevision, fetchRuns, putPreparation } from '../shared/api.js';
import { useAnswer, type AnswerNow } from '../shared/use-answer.js';

/** Runs that are looked through for earlier assignments. */
const earlierRuns = 100;

/** undefined while it is requested; a procedure that is null is not known. */
interface Known {
  readonly procedure: Procedure | null | undefined;
  /** Assignments of the carriage's earlier runs, the newest first. */
  readonly earlier: readonly AssignmentAnswer[] | undefined;
}

export interface PreparationNow {
  readonly assignment: AssignmentAnswer;
  readonly asked: readonly AskedEntry[];
  readonly group: NonNullable<Procedure['runGroups']>[number] | undefined;
  readonly known: Known;
  /** Why the newest presses were not stored, or null. */
  readonly failure: string | null;
  readonly enter: (change: PreparationChange) => void;
}

/** The checks of the current assignment, and how they are entered. One use serves one assignment: its state is not carried over. */
export function usePreparation(carriage: Carriage, inForce: AssignmentAnswer, signer: string): PreparationNow {
  const known = useKnown(carriage, inForce);
  const [answered, setAnswered] = useState<AssignmentAnswer | null>(null);
  const [failure, setFailure] = useState<string | null>(null);
  const [waiting, setWaiting] = useState<readonly PreparationChange[]>([]);
  const queue = useRef<PreparationChange[]>([]);
  const sending = useRef(false);
  const { site, carriage: name } = carriage;
  const { seam, run } = inForce;

  async function send(): Promise<void> {
    if (sending.current) return;
    sending.current = true;
    for (let change = queue.current[0]; change !== undefined; change = queue.current[0]) {
      const { arcs, ...rest } = change;
      const answer = await putPreparation(site, name, { seam, run, ...rest, ...(arcs == null ? {} : { arcs: arcs.map((own) => ({ ...own })) }), by: signer.slice(0, 100) });
      if (answer.ok) queue.current.shift();
      else queue.current = [];
      if (answer.ok) setAnswered(answer.value);
      setFailure(answer.ok ? null : answer.failure.reason);
      setWaiting([...queue.current]);
    }
    sending.current = false;
  }

  // The live feed may be behind the answer to what was entered here, or ahead of it.
  const newest = answered !== null && (answered.preparation?.at ?? '') > (inForce.preparation?.at ?? '') ? answered : inForce;
  const assignment = waiting.reduce<AssignmentAnswer>((own, change) => enterPreparation(own, change, signer, newest.preparation?.at ?? ''), newest);
  const group = known.procedure == null ? undefined : runGroupOf(known.procedure.runGroups, assignment);
  const asked = askedPreparation(assignment, group, carriage.arcs.map(({ arc }) => arc));
  return {
    assignment,
    asked,
    group,
    known,
    failure,
    enter: (change) => {
      queue.current.push(change);
      setWaiting([...queue.current]);
      void send();
    },
  };
}

function useKnown({ site, carriage }: Carriage, { seam, run, procedure: id }: AssignmentAnswer): Known {
  const procedure = useAnswer(id === undefined ? null : async (signal) => await fetchRevision(id, null, signal), [id]);
  const runs = useAnswer(async (signal) => await fetchRuns({ site, carriage, limit: earlierRuns }, signal), [site, carriage, seam, run]);
  const isOther = (own: AssignmentAnswer | null): own is AssignmentAnswer => own !== null && (own.seam !== seam || own.run !== run);
  return {
    procedure: id !== undefined && isOpen(procedure) ? undefined : procedure.value,
    earlier: isOpen(runs) ? undefined : (runs.value?.items ?? []).map(({ assignment }) => assignment).filter(isOther),
  };
}

function isOpen({ value, failure }: Pick<AnswerNow<unknown>, 'value' | 'failure'>): boolean {
  return value === null && failure === null;
}
