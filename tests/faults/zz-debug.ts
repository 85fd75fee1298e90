import mqtt from 'mqtt';
import { seededRandom } from '../model/seeded-random.js';
import { itemCounts, healthOf } from './ask-service.js';
import { hostileMessage, type HostileKind } from './hostile-payloads.js';
import { scratchDir, startProcess, residentMemory } from './service-process.js';
const kinds = (process.argv[3] ?? 'readings,readings,readings,assignment,status').split(',') as HostileKind[];
const N = Number(process.argv[4] ?? 2000), from = Number(process.argv[5] ?? 0);
const dir = scratchDir();
const service = startProcess({ dataDir: dir.path });
const a = await service.listening;
const random = seededRandom(Number(process.argv[2] ?? 5));
const c = await mqtt.connectAsync(a.mqtt, { reconnectPeriod: 0, keepalive: 0, clientId: 'x' });
const pending = new Map<number, string>();
let acked = 0; const t0 = Date.now();
const timer = setInterval(async () => { const t=Date.now(); const m = await itemCounts(a.http); const text=await (await fetch(a.http+'/metrics')).text(); const g=(n:string)=>Number(new RegExp(`^${n} (\\S+)`,'m').exec(text)?.[1]); console.log(Date.now() - t0, 'acked', acked, 'received', m.received, 'commits', g('seamwarden_commits_total'), 'sec', g('seamwarden_commit_seconds_total').toFixed(1), 'ask', Date.now() - t, 'rss', residentMemory(service.pid).toFixed(0)); if (Date.now()-t0>Number(process.env['LIMIT']??60000)) done(); }, 2000);
let sent = 0;
const done = () => { clearInterval(timer); console.log('end', sent, acked, Date.now() - t0, pending.size, [...pending.values()].slice(0, 3).map((x) => x.slice(0, 150))); if (process.env["RAW"]) console.log(service.stderr().split("\n").filter((l) => l.startsWith("TAIL")).join("\n")); console.log(service.stderr().split('\n').filter((l) => !l.includes('"level":30')).slice(0, 8).join('\n').slice(0,3000)); void service.kill((process.env['SIG'] ?? 'SIGKILL') as 'SIGKILL').then(() => { dir.remove(); process.exit(); }); };
for (let n = 0; n < N; n += 1) {
  const m = hostileMessage(random, n, kinds);
  if (n < from) continue;
  while (pending.size >= 100) await new Promise((r) => setTimeout(r, 5));
  sent += 1; pending.set(n, m.topic + ' ' + m.payload.toString('latin1').slice(0, 200));
  c.publish(m.topic, m.payload, { qos: m.qos, retain: m.retain }, (e) => { if (!e) { acked += 1; pending.delete(n); } });
}
while (pending.size > 0) await new Promise((r) => setTimeout(r, 20));
done();
