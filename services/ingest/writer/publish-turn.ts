import { assignmentPayload } from '../../../shared/weld/procedure/assignment-payload.js';
import { turnsMade } from '../../../shared/weld/run/turn-epochs.js';
import { topicOf, type Carriage } from '../fold/carriage.js';
import { isFolded } from '../fold/fold-state.js';
import { epochInForceOf } from '../fold/in-force.js';
import { assignmentOf } from '../fold/intake.js';
import { noteEpochTold } from '../fold/outbox.js';

/**
 * Publishes, retained, the assignment to the run that a turn has begun. After a start that is done once items come: by then whatever a broker holds has been received,
 * and a newer assignment among it is not overwritten.
 */
export function publishTurn(carriage: Carriage, publish: (topic: string, payload: string) => void): void {
  const { kind, intake, fold, outbox } = carriage;
  if (kind === 'log' || intake.retired || intake.heard.size === 0 || fold.fault !== null || !isFolded(fold)) return;
  const epoch = epochInForceOf(carriage);
  if (epoch === outbox.epochTold) return;
  noteEpochTold(outbox, epoch);
  const assignment = assignmentOf(intake, epoch);
  if (assignment !== null && turnsMade(epoch) > 0) publish(`${topicOf(carriage)}/assignment`, JSON.stringify(assignmentPayload(assignment)));
}
