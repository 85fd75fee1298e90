import type { Run } from '../../shared/api-types/run.js';
import { carriageState, type CarriageState } from './carriage-state.js';
import { carriageNow } from './carriages-now.js';
import { serverNow } from './now.js';

/** The state of the carriage that welds the run, if the carriage is silent: then the figures do not change. */
export function runSilence(run: Pick<Run, 'id' | 'state' | 'site' | 'carriage'>): CarriageState | null {
  if (run.state !== 'welding') return null;
  const carriage = carriageNow(`${run.site}/${run.carriage}`);
  if (carriage?.run !== run.id) return null;
  const state = carriageState(carriage, serverNow.value);
  return state.stale ? state : null;
}
