import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Verdict } from '../shared/carriage-verdict.js';
import { activeAlarms, urgency } from '../shared/standing-alarms.js';

/** The rank of a carriage without any trouble. */
export const noTrouble = 12;
const silentRank = 0.5;
const warnedRank = 10;
const quietRank = 11;

/**
 * How much attention a carriage needs, 0 the most: first by its most urgent active alarm (`urgency`); a carriage that fell silent comes after unacknowledged
 * alarms of high priority; then carriages with a warning, and then those whose alarms are all shelved. Cleared alarms are history and need no attention.
 */
export function troubleRank(carriage: Carriage, verdict: Verdict, warned: boolean): number {
  const [first] = activeAlarms(carriage);
  const byAlarm = first === undefined ? noTrouble : urgency(first);
  const bySilence = verdict === 'silent' ? silentRank : noTrouble;
  const byWarning = warned ? warnedRank : noTrouble;
  const byShelved = verdict === 'outside' || verdict === 'fault' ? quietRank : noTrouble;
  return Math.min(byAlarm, bySilence, byWarning, byShelved);
}

/** Keys with the most troubled first; of equal rank they stay in their order. */
export function inOrderOfTrouble(keys: readonly string[], rankOf: (key: string) => number): readonly string[] {
  return keys.map((key) => ({ key, rank: rankOf(key) })).sort((a, b) => a.rank - b.rank).map(({ key }) => key);
}
