import mqtt from 'mqtt';
import { setTimeout as wait } from 'node:timers/promises';
import { getJson, runsOf } from './ask-service.js';
import { repeatPlan, repeated, shuffled } from './repeat-plan.js';
import { seededRandom } from '../model/seeded-random.js';
import { scratchDir, startProcess } from './service-process.js';
const seed = 44266849; const d = scratchDir(); const s = startProcess({ dataDir: d.path }); const a = await s.listening;
const c = await mqtt.connectAsync(a.mqtt, { clientId: 'z' });
const show = async (name: string) => { for (const r of await runsOf(a.http, 'z', name)) { const t = await getJson(a.http, `/api/runs/${r.id}/trace?axis=time&points=2000`) as { rows: number; arcs: { at: number[]; current: unknown[] }[] }; console.log(name, r.seam, r.run, r.startedAt, r.endedAt, r.state, 'v', r.version, 'dur', r.duration, 'arcTime', r.arcTime, 'rows', t.rows, 'at', t.arcs.map((x) => [x.at.length, x.at[0], x.at.at(-1)].join(' ')).join(' | ')); } };
for (const mode of ['ordered', 'shuffled', 'heldback'] as const) {
  const p = repeatPlan(seed, (x) => `${x}-${mode}`); if (mode === 'ordered') console.log(p.description, p.assignments, p.sendings.length);
  for (const x of [...p.assignments, JSON.stringify({ seam: null, time: p.end })]) await c.publishAsync(`weld/z/${mode}/assignment`, x, { qos: 1 });
  const random = seededRandom(seed);
  if (mode === 'ordered') await Promise.all(p.sendings.map((x) => c.publishAsync(`weld/z/${mode}/readings`, JSON.stringify(x.items), { qos: 1 })));
  else if (mode === 'shuffled') await Promise.all(shuffled(p.sendings, random).map((x) => c.publishAsync(`weld/z/${mode}/readings`, JSON.stringify(x.items), { qos: 1 })));
  else { const held = new Set(p.sendings.filter((_, i) => i > 0 && random.chance(0.05))); await Promise.all(p.sendings.filter((x) => !held.has(x)).map((x) => c.publishAsync(`weld/z/${mode}/readings`, JSON.stringify(x.items), { qos: 1 }))); await wait(2500); await show(mode); await Promise.all([...held].map((x) => c.publishAsync(`weld/z/${mode}/readings`, JSON.stringify(x.items), { qos: 1 }))); }
  await wait(2500); await show(mode);
}
await s.kill('SIGKILL'); d.remove(); process.exit();
