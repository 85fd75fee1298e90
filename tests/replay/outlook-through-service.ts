import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { carriageSchema } from '../../shared/api-types/carriage.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { listSchema } from '../../shared/api-types/common.js';
import type { ServiceAddress } from './case-answers.js';

export const outlookStart = Date.UTC(2026, 10, 2, 6);

/**
 * A weld in progress, through a running service: 600 A, 600 mm/min, 1.25 m/min of wire at 10 Hz for 70 s; 31 V, from 40.5 s on rising by 0.05 V/s.
 * Returns the carriage's answer once all of it has been folded.
 */
export async function outlookThroughService(address: ServiceAddress): Promise<Carriage> {
  const carriage = `outlook-${Date.now().toString(36)}`;
  const procedure = `P-${carriage}`;
  const made = await fetch(`${address.http}/api/procedures`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ id: procedure, title: 'drift', process: '121', runGroups: [{ runs: [1, 1], arcs: [{ arc: 1, wireDiameter: 4, voltage: { min: 28, max: 34 } }] }] }),
  });
  if (!made.ok) throw new Error(`POST /api/procedures answered ${made.status}: ${await made.text()}`);
  const client = await mqtt.connectAsync(address.mqtt);
  try {
    const topic = `weld/replay/${carriage}`;
    const assignment = { seam: 'S-outlook', run: 1, procedure, time: outlookStart - 1000, seamLength: 2900, runOff: 100, arcs: [{ arc: 1, spoolMass: 0.5 }] };
    await client.publishAsync(`${topic}/assignment`, JSON.stringify(assignment), { qos: 1 });
    const readings = Array.from({ length: 701 }, (_, seq) => ({
      boot: 'b1', seq, time: outlookStart + seq * 100, current: 600, voltage: 31 + 0.05 * Math.max(0, seq / 10 - 40.5), travelSpeed: 600, wireFeedSpeed: 1.25,
    }));
    await client.publishAsync(`${topic}/readings`, JSON.stringify(readings), { qos: 1 });
  } finally {
    await client.endAsync();
  }
  const list = listSchema(carriageSchema);
  const deadline = Date.now() + 20_000;
  while (Date.now() < deadline) {
    const answer = list.parse(await (await fetch(`${address.http}/api/carriages?limit=1000`)).json());
    const own = answer.items.find((one) => one.carriage === carriage);
    if (own?.travelled === 700) return own;
    await wait(100);
  }
  throw new Error('waited 20 s in vain for 700 mm');
}
