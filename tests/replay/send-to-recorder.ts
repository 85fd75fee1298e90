import { expect } from 'vitest';
import { atPath } from './check-figures.js';
import type { RecorderByHand } from '../ingest/recorder-by-hand.js';
import type { CaseProcedure } from './case-format.js';
import { expandCase, type EnteredHere } from './expand-case.js';
import type { GoldenCase } from './read-cases.js';

const signed = 'case';

async function addProcedure(own: RecorderByHand, procedure: CaseProcedure, first: boolean): Promise<void> {
  const answer = await own.calls.answer({ type: 'call', id: 1, name: 'addProcedure', args: [procedure.id, JSON.stringify(procedure), signed, first] });
  expect(answer).toMatchObject({ revision: expect.any(Number) as number });
}

/** Enters a temperature, at a run as its record says. */
async function enterTemperature(own: RecorderByHand, carriage: string, { of, at, kind, value, seam, place = 'ahead' }: EnteredHere): Promise<void> {
  own.clock.pass(1_100);
  const where = of === null ? { site: 'replay', carriage } : { run: String(atPath(own.records('runs')[of], 'id')) };
  const entered = { kind, value, at: at * 1000, seam, place, seamPosition: null, distance: null, instrument: null, by: signed, reason: null };
  expect(await own.calls.answer({ type: 'call', id: 1, name: 'enterTemperature', args: [where, entered] })).toMatchObject({ measured: { value } });
}

/**
 * Sends the messages of a case in order, each assignment by itself: everything before it is acknowledged first, and it is acknowledged before more is
 * sent.
 */
export async function sendToRecorder(own: RecorderByHand, { file, name }: Pick<GoldenCase, 'file' | 'name'>): Promise<void> {
  for (const procedure of file.procedures ?? []) await addProcedure(own, procedure, true);
  if (file.sensors !== undefined) await own.calls.answer({ type: 'call', id: 1, name: 'declareSensors', args: ['replay', name, file.sensors, signed] });
  const before = own.acknowledged;
  let sent = 0;
  for (const message of expandCase(file)) {
    if (message.kind !== 'readings') own.clock.pass(10);
    if (message.kind === 'revision') await addProcedure(own, message.procedure, false);
    else if (message.kind === 'temperature') await enterTemperature(own, name, message.temperature);
    else {
      own.take(`weld/replay/${name}/${message.kind}`, message.payload ?? '');
      sent += 1;
    }
    if (message.kind === 'assignment') own.clock.pass(10);
  }
  own.clock.pass(3_000);
  expect(own.acknowledged - before).toBe(sent);
}
