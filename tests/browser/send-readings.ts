import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';

/** Publishes with QoS 1 and waits until the broker has acknowledged. */
export async function publish(url: string, messages: readonly { readonly topic: string; readonly payload: unknown }[]): Promise<void> {
  const client = await mqtt.connectAsync(url);
  try {
    for (const { topic, payload } of messages) await client.publishAsync(topic, payload === null ? '' : JSON.stringify(payload), { qos: 1 });
  } finally {
    await client.endAsync();
  }
}

export interface Sender {
  readonly stop: () => Promise<void>;
}

/** A carriage that sends at 10 Hz in real time until it is stopped; its current counts up by 1 A a reading from 600 A. */
export async function startSending(url: string, carriage: string): Promise<Sender> {
  const client = await mqtt.connectAsync(url);
  let seq = 0;
  const timer = setInterval(() => {
    const reading = { boot: 'b1', seq, time: Date.now(), current: 600 + (seq % 100), voltage: 30, travelSpeed: 550 };
    seq += 1;
    client.publish(`weld/hall-a/${carriage}/readings`, JSON.stringify(reading), { qos: 1 });
  }, 100);
  return {
    stop: async () => {
      clearInterval(timer);
      await client.endAsync();
    },
  };
}

/**
 * A steady weld: 601 readings of 600 A, 30 V, 550 mm/min at 10 Hz, then zeros; begun two minutes ago. 18 kW for 60.1 s; heat
 * input 600 · 30 · 60 / (550 · 1000) = 1.963636 kJ/mm (EN 1011-1; a lecture text on submerged arc welding prints "approx. 20
 * kJ/cm" for it), length 550 / 60 · 60.1 = 550.917 mm. Gives back the id of the finished run.
 */
export async function sendSteadyRun(service: { readonly http: string; readonly mqtt: string }, carriage: string, seam: string, extra: Readonly<Record<string, unknown>> = {}): Promise<string> {
  const begin = Date.now() - 120_000;
  const readings = Array.from({ length: 611 }, (_, seq) => ({
    boot: 'b1',
    seq,
    time: begin + seq * 100,
    ...(seq <= 600 ? { current: 600, voltage: 30, travelSpeed: 550 } : { current: 0, voltage: 0, travelSpeed: 0 }),
  }));
  const topic = `weld/hall-a/${carriage}`;
  await publish(service.mqtt, [
    { topic: `${topic}/assignment`, payload: { seam, run: 1, ...extra } },
    { topic: `${topic}/readings`, payload: readings },
    { topic: `${topic}/assignment`, payload: null },
  ]);
  return await finishedRun(service.http, carriage);
}

/** Waits until a run of the carriage is finished, and gives back its id. */
export async function finishedRun(http: string, carriage: string): Promise<string> {
  const deadline = Date.now() + 30_000;
  while (Date.now() < deadline) {
    const answer = await fetch(`${http}/api/runs?state=finished&carriage=${carriage}`);
    const { items } = (await answer.json()) as { readonly items: readonly { readonly id: string }[] };
    const [run] = items;
    if (run !== undefined) return run.id;
    await wait(100);
  }
  throw new Error(`the run of ${carriage} was not finished within 30 s`);
}
