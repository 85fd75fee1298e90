import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Run } from '../../shared/api-types/run.js';
import { seededRandom } from '../model/seeded-random.js';
import { awaitMark, expectedMark, getAll, itemCounts, runsOf, until } from './ask-service.js';
import { fakeTime } from './fake-time.js';
import type { Outcome } from './outcome.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { scratchDir, startProcess } from './service-process.js';

const site = 'clock';
const hour = 3_600;
/** s away from the true time, each after the one before. */
const places = [-hour, -20, -10 * 365 * 86_400, 2 * hour, 0, hour, -2];
/** s without arc after which a run is over, and without an item under a burning arc after which that is an alarm (rule: 5 s). */
const runEndAfter = 6;
const silentFor = 5;

/**
 * The wall clock of the service is set while carriages weld beside each other, one for each step; then they fall silent. Nothing may wait for the
 * clock to come back to where it was.
 */
export async function serviceClockScenario(steps: number, seed: number): Promise<Outcome> {
  const random = seededRandom(seed);
  const dir = scratchDir();
  const time = fakeTime();
  const service = startProcess({ dataDir: dir.path, env: { ...time.env, SEAMWARDEN_RUN_END_AFTER: String(runEndAfter), SEAMWARDEN_LATE_FOR: '30' } });
  const problems: string[] = [];
  let disconnect = (): Promise<void> => Promise.resolve();
  try {
    const { http, mqtt: url } = await service.listening;
    const client = await mqtt.connectAsync(url, { clientId: 'clocks' });
    disconnect = () => client.endAsync(true);
    const carriages = ['c1', 'c2', 'c3'];
    for (const carriage of carriages) await client.publishAsync(`weld/${site}/${carriage}/assignment`, JSON.stringify({ seam: carriage, run: 1 }), { qos: 1 });
    const began = Date.now();
    let seq = 0;
    const weld = async (readings: number): Promise<void> => {
      for (let k = 0; k < readings; k += 1) {
        const payload = JSON.stringify({ boot: 'b1', seq, time: began + seq * 100, current: 600, voltage: 30, travelSpeed: 600 });
        await Promise.all(carriages.map((carriage) => client.publishAsync(`weld/${site}/${carriage}/readings`, payload, { qos: 1 })));
        seq += 1;
        await wait(40);
      }
    };
    await weld(20);
    for (let step = 0; step < steps; step += 1) {
      time.set((places[step % places.length] ?? 0) + random.whole(0, 3));
      await weld(random.whole(5, 15));
    }
    const seqs = Array.from({ length: seq }, (_, own) => own);
    await Promise.all(carriages.map((carriage) => awaitMark(url, site, carriage, [expectedMark('b1', seqs)])));
    // Silence is reported, and the runs end, in their time by the steady clock.
    const fellSilent = performance.now();
    const told = (alarms: readonly Alarm[]): number => alarms.filter(({ quantity, site: own }) => quantity === 'noData' && own === site).length;
    let alarms: Alarm[] = [];
    await until('the silence to be told', async () => told((alarms = await getAll<Alarm>(http, '/api/alarms'))) === carriages.length, silentFor + 15, () => alarms.map(({ quantity, carriage, since, recordedAt, state }) => `${quantity} ${String(carriage)} since ${since}, recorded ${recordedAt}, ${state}`).join('; '));
    let runs: Run[] = [];
    await until('the runs to be over', async () => (runs = (await Promise.all(carriages.map((own) => runsOf(http, site, own)))).flat()).every(({ state }) => state === 'finished'), runEndAfter + 15);
    const seconds = (performance.now() - fellSilent) / 1e3;
    if (seconds < silentFor - 1) problems.push(`silence and ends were told after ${seconds.toFixed(1)} s`);
    if (runs.length !== carriages.length) problems.push(`${runs.length} runs of ${carriages.length} carriages`);
    for (const run of runs) {
      // 600 A · 30 V is 18 kW. The last reading stands for a second at most (SEAMWARDEN_MAX_HOLD), and nothing came after it.
      const least = 18 * (seq - 1) / 10;
      if (run.energy === null || run.energy < least - 1e-6 || run.energy > least + 18 + 1e-6) problems.push(`${run.carriage}: energy ${String(run.energy)} kJ, at least ${least} were sent`);
      if (run.arcs[0]?.samples !== seq) problems.push(`${run.carriage}: ${String(run.arcs[0]?.samples)} samples of ${seq}`);
    }
    const counts = await itemCounts(http);
    if (counts.stored !== seq * carriages.length) problems.push(`lost: ${counts.stored} stored of ${seq * carriages.length}`);
    const set = alarms.filter(({ quantity }) => quantity === 'serviceClock').length;
    if (set === 0) problems.push('nothing was said of the clock');
    await until('health to be told by the clock as it is', async () => (await fetch(`${http}/api/health`)).status === 200);
    await client.endAsync();
    if (service.stderr().includes('"level":50')) problems.push(`logged: ${service.stderr().slice(0, 1_500)}`);
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path, { lateFor: 30e6, settings: { ...defaultWeldSettings, runEndAfter: runEndAfter * 1e6 } }));
    return { scenario: 'clock of the service', seed, counted: `${steps} steps, ${seq * carriages.length} items, ${set} alarms of the clock`, problems };
  } finally {
    await disconnect();
    await service.kill('SIGTERM');
    time.remove();
    dir.remove();
  }
}
