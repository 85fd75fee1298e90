import { useSignal } from '@preact/signals';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { endCarriageJob, putCarriageJob } from '../job/job-api.js';

export interface JobWrites {
  /** Whether the service accepted it. */
  readonly give: (job: AssignmentAnswer, reason?: string) => Promise<boolean>;
  readonly end: () => Promise<boolean>;
  /** Why the last one failed. */
  readonly failure: string | null;
  readonly sending: boolean;
}

/** Gives and ends the job of a carriage, signed by the person at it; a press while another is being sent does not count. */
export function useJobWrites({ site, carriage }: Carriage, by: string): JobWrites {
  const failure = useSignal<string | null>(null);
  const sending = useSignal(false);
  const once = async (write: () => ReturnType<typeof endCarriageJob>): Promise<boolean> => {
    if (sending.peek()) return false;
    sending.value = true;
    const answer = await write();
    sending.value = false;
    failure.value = answer.ok ? null : answer.failure.reason;
    return answer.ok;
  };
  return {
    give: async (job, reason) => await once(async () => await putCarriageJob(site, carriage, job, reason === undefined ? { by } : { by, reason })),
    end: async () => await once(async () => await endCarriageJob(site, carriage, by)),
    failure: failure.value,
    sending: sending.value,
  };
}
