import mqtt from 'mqtt';
import { setTimeout as wait } from 'node:timers/promises';
import { scratchDir, startProcess } from './service-process.js';
for (const mode of ['plain', 'silentArc', 'hugeSeq', 'hugeSeqTimeless', 'manyHugeSeq']) {
  const dir = scratchDir(); const service = startProcess({ dataDir: dir.path, env: { SEAMWARDEN_RUN_END_AFTER: '900' } }); const a = await service.listening;
  const c = await mqtt.connectAsync(a.mqtt, { clientId: 'p' });
  const N = mode === 'manyHugeSeq' ? 20 : 1; const names = Array.from({ length: N }, (_, i) => 'p' + i);
  const T0 = Date.now() - 800_000; let seq = 0;
  const pub = (name: string, x: unknown) => c.publishAsync(`weld/s/${name}/readings`, JSON.stringify(x), { qos: 1 });
  const rd = (s: number, arc = 1) => ({ boot: 'b', seq: s, time: T0 + s * 100, arc, current: 600, voltage: 30, travelSpeed: 550 });
  for (const n of names) await c.publishAsync(`weld/s/${n}/assignment`, JSON.stringify({ seam: n, run: 1 }), { qos: 1 });
  for (const n of names) { const ps: unknown[] = []; for (seq = 0; seq < 6000; seq++) { ps.push(pub(n, mode === 'silentArc' && seq < 50 ? [rd(seq), rd(seq, 2)] : rd(seq))); if (seq % 200 === 0) await Promise.all(ps); } await Promise.all(ps); 
    if (mode.includes('ugeSeq')) await pub(n, { ...rd(seq), seq: 9007199254740991, ...(mode === 'hugeSeqTimeless' ? { time: undefined } : {}) }); }
  const metric = async () => { const t = await (await fetch(a.http + '/metrics')).text(); const g = (k: string) => Number(new RegExp(`^${k} (\\S+)`, 'm').exec(t)?.[1]); return [g('seamwarden_commit_seconds_total'), g('seamwarden_commits_total'), g('seamwarden_items_refused_total')] as const; };
  await wait(1500);
  const [s0, n0] = await metric(); const t0 = performance.now(); const lat: number[] = [];
  for (let k = 0; k < 80; k++) { const b = performance.now(); await Promise.all(names.map((n) => pub(n, rd(seq)))); seq++; lat.push(performance.now() - b); await wait(Math.max(0, t0 + (k + 1) * 100 - performance.now())); }
  const [s1, n1, rf] = await metric(); lat.sort((x, y) => x - y);
  console.log(mode, 'writer busy', ((s1 - s0) / ((performance.now() - t0) / 1000) * 100).toFixed(1) + '%', 'commits', n1 - n0, 'ms/commit', ((s1 - s0) / (n1 - n0) * 1000).toFixed(1), 'puback p50', lat[40]!.toFixed(0), 'max', lat.at(-1)!.toFixed(0), 'refused', rf);
  await c.endAsync(true); await service.kill('SIGKILL'); dir.remove();
}
process.exit();
