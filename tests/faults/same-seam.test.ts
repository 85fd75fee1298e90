import mqtt from 'mqtt';
import { expect, it } from 'vitest';
import { expectAccounted } from '../ingest/accounted.js';
import { hasMosquitto, startMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { seededRandom } from '../model/seeded-random.js';
import { awaitMark, expectedMark, getJson, runsOf, until } from './ask-service.js';
import { carriagePlan, planStyles, type PlannedRun } from './carriage-plan.js';
import { keptItems } from './kept-items.js';
import { seedFrom } from './outcome.js';
import { differences, runDifferences, withTraces, type RunFace } from './same-runs.js';
import { scratchDir, startProcess } from './service-process.js';

const site = 'same';

/** Windows that the made-up readings (620 ± 5 A, 31 ± 0.6 V, at random) are inside of at some moments and outside at others. */
const procedure = {
  id: 'SA-1',
  runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, current: { min: 615, max: 620.5 }, voltage: { min: 30.9, max: 31.2 } }], travelSpeed: { min: 480, max: 620 } }],
  alarm: { smoothing: 0.2, onDelay: 0.2, offDelay: 0.2 },
};

interface Seen {
  readonly runs: RunFace[];
  readonly more: unknown[];
  readonly kept: Record<string, string[]>;
}

async function weld(plans: ReadonlyMap<string, readonly PlannedRun[]>, brokerUrl: string | null): Promise<Seen> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path, env: brokerUrl === null ? {} : { SEAMWARDEN_MQTT_URL: brokerUrl } });
  try {
    const { http, mqtt: url } = await service.listening;
    await fetch(`${http}/api/procedures`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(procedure) });
    const client = await mqtt.connectAsync(url, { clientId: 'welds' });
    const runs: RunFace[] = [];
    const more: unknown[] = [];
    for (const [carriage, planned] of plans) {
      const publish = (kind: string, payload: string): Promise<unknown> => client.publishAsync(`weld/${site}/${carriage}/${kind}`, payload, { qos: 1 });
      for (const { messages } of planned) {
        const [begin, end] = [messages[0], messages.at(-1)];
        // An assignment holds from just after what was received before it, so it travels alone.
        await publish('assignment', JSON.stringify({ ...(JSON.parse(begin?.payload ?? '') as object), procedure: procedure.id }));
        await Promise.all(messages.slice(1, -1).map(({ kind, payload }) => publish(kind, payload)));
        await publish('assignment', end?.payload ?? '');
      }
      const seqs = planned.flatMap(({ messages }) => messages.flatMap(({ items }) => items.map(({ seq }) => seq)));
      await awaitMark(url, site, carriage, [expectedMark('b1', seqs)]);
      await until(`the runs of ${carriage} to be finished`, async () => (await runsOf(http, site, carriage)).filter(({ state }) => state === 'finished').length === planned.length);
      const own = await runsOf(http, site, carriage);
      runs.push(...(await withTraces(http, own)));
      for (const { id } of own) {
        const { items } = (await getJson(http, `/api/runs/${id}/excursions`)) as { items: Record<string, unknown>[] };
        more.push({ excursions: items.map((excursion) => ({ ...excursion, id: null })), profile: await getJson(http, `/api/runs/${id}/profile?bin=10`) });
      }
    }
    await client.endAsync();
    await service.kill('SIGTERM');
    expectAccounted(dir.path);
    return { runs, more, kept: Object.fromEntries([...keptItems(dir.path, site)].sort(([a], [b]) => a.localeCompare(b))) };
  } finally {
    await service.kill('SIGKILL');
    dir.remove();
  }
}

it.skipIf(!hasMosquitto)('makes the same runs to the last bit, whether its own broker or an outside one carries the items', async () => {
  const seed = seedFrom();
  const plans = new Map(
    planStyles.map((style, index) => {
      const plan = carriagePlan(`seam-${style}`, style, seededRandom(seed + index));
      return [`${style}-1`, [plan(), plan()]] as const;
    }),
  );
  const broker = await startMosquitto(['log_type none', 'log_type error']);
  try {
    const [own, outside] = await Promise.all([weld(plans, null), weld(plans, broker.url)]);
    const found = [...runDifferences(own.runs, outside.runs), ...differences('more', own.more, outside.more), ...differences('kept', own.kept, outside.kept)];
    expect(found, `SEED=${seed}`).toEqual([]);
    // What is compared is there at all: each run with all its samples, each item once, and something outside the windows.
    for (const [carriage, planned] of plans) {
      const records = own.runs.filter(({ run }) => run.carriage === carriage).map(({ run }) => run.arcs.map(({ arc, samples }) => [arc, samples]));
      expect(records, `SEED=${seed}`).toEqual(planned.map(({ samples }) => [...samples]));
    }
    const sent = [...plans.values()].flat().flatMap(({ messages }) => messages.flatMap(({ items }) => items));
    expect(Object.values(own.kept).map((copies) => copies.length), `SEED=${seed}`).toEqual(sent.map(() => 1));
    expect(own.runs.reduce((sum, { run }) => sum + run.excursions, 0), `SEED=${seed}`).toBeGreaterThan(0);
  } finally {
    await broker.stop();
  }
});
