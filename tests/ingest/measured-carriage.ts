import { afterEach, beforeEach, expect } from 'vitest';
import { carriageSchema } from '../../shared/api-types/carriage.js';
import { runSchema, type Run } from '../../shared/api-types/run.js';
import type { EnteredTemperature, MeasuredWhere } from '../../services/ingest-port.js';
import { atPath } from '../replay/check-figures.js';
import { recorderByHand, type RecorderByHand } from './recorder-by-hand.js';

export const place = { site: 'hall', carriage: 'c1' };
const procedure = { id: 'P', runGroups: [{ runs: [1, 9], preheat: { min: 80 }, interpassTemperature: { max: 200 } }] };

export let own: RecorderByHand;
/** The time of seq 0 by the clock of the carriage, ms. */
export let start: number;
export let seq: number;

/** Gives each test of the file a recorder with the procedure; no problem may have been logged by its end. */
export function useMeasuredCarriage(): void {
  beforeEach(async () => {
    own = recorderByHand();
    start = own.clock.now() / 1e3;
    seq = 0;
    await call('addProcedure', 'P', JSON.stringify(procedure), 'qa', true);
  });
  afterEach(() => {
    expect(own.problems).toEqual([]);
    own.close();
  });
}

/** The carriage has sent so many messages by other means. */
export function sent(count: number): void {
  seq = count;
}

/** The clock of the carriage is wrong. */
export function setStart(time: number): void {
  start = time;
}

let calls = 0;
export async function call(name: 'addProcedure' | 'declareSensors' | 'enterTemperature' | 'withdrawTemperature' | 'assign' | 'assignRun' | 'enterPreparation', ...args: readonly unknown[]): Promise<unknown> {
  calls += 1;
  const answer = await own.calls.answer({ type: 'call', id: calls, name, args } as unknown as Parameters<typeof own.calls.answer>[0]);
  expect(answer).not.toHaveProperty('failed');
  return answer;
}

export const assign = (run: number, more: object = {}): Promise<unknown> => call('assign', 'hall', 'c1', { seam: 'S', run, procedure: 'P', ...more }, { by: 'qa', reason: null });
/** Welds for so many seconds, or travels with the arc out. */
export function weld(seconds: number, current = 600): void {
  own.send(start, seq, seq + 10 * seconds, current);
  seq += 10 * seconds;
}
/** So many seconds before now by the clock of the carriage, µs. */
export const before = (seconds: number): number => (start + seq * 100 - seconds * 1e3) * 1e3;

/** Enters a temperature, at the carriage if no run is named; returns its id. */
export async function enter(value: number, at: number | null, more: Partial<EnteredTemperature> = {}, where: MeasuredWhere = place): Promise<string> {
  const entered: EnteredTemperature = { kind: 'interpass', value, at, seam: undefined, place: 'ahead', seamPosition: null, distance: null, instrument: null, by: 'Kim', reason: null, ...more };
  return String(atPath(await call('enterTemperature', where, entered), 'measured.id'));
}
export const withdraw = (id: string, where: MeasuredWhere = place): Promise<unknown> => call('withdrawTemperature', where, id, { by: 'Lee', reason: 'wrong plate' });

export function runs(): Run[] {
  return own.records('runs').map((run) => runSchema.parse(run));
}
export const run = (index = 0): Run => runs().at(index) ?? (undefined as never);
/** Of each check of a run: its quantity, the value and the verdict. */
export const checks = (of: Run): unknown[] => (of.temperatureChecks ?? []).map(({ quantity, value, verdict }) => [quantity, value, verdict]);
export const missing = (of: { readonly preparation?: Run['preparation'] | undefined }): string[] => (of.preparation?.missing ?? []).filter(({ entry }) => /Measured$/.test(entry)).map(({ entry, reason, against }) => `${entry} ${reason} ${against ?? ''}`);
export const carriage = (): ReturnType<typeof carriageSchema.parse> => carriageSchema.parse(JSON.parse(own.events.filter(({ event }) => event === 'carriage').at(-1)?.data ?? 'null'));
export const alarms = (): unknown[] => own.records('alarms').map((alarm) => ['quantity', 'limit', 'worst', 'state', 'withdrawnCode'].map((name) => atPath(alarm, name)));
