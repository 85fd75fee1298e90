import mqtt from 'mqtt';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { childOptions, tellParent } from './bench-child.js';
import { peerBatch } from './peer-flow.js';

/** The least script that does the task: it gathers rows, and acknowledges when a message has come, as the client library does. */
const { port, file } = childOptions() as { port: number; file: string };
const db = openSqlite(file);
db.pragma('synchronous = FULL');
const insert = db.prepare('INSERT INTO readings VALUES (?, ?, ?, ?, ?, ?, ?)');
const last = new Map<string, { time: number; power: number; energy: number }>();
let rows: (string | number)[][] = [];

const store = db.transaction(() => {
  for (const row of rows) insert.run(...row);
  rows = [];
});

const client = mqtt.connect(`mqtt://127.0.0.1:${port}`, { clientId: 'peer', clean: false, reconnectPeriod: 0 });
client.on('message', (topic, payload) => {
  const carriage = topic.split('/')[2] ?? '';
  const { seq, time, current, voltage, travelSpeed } = JSON.parse(payload.toString()) as Record<'seq' | 'time' | 'current' | 'voltage' | 'travelSpeed', number>;
  const own = last.get(carriage) ?? { time, power: 0, energy: 0 };
  last.set(carriage, own);
  own.energy += own.power * Math.min(1, (time - own.time) / 1_000);
  own.power = current * voltage;
  own.time = time;
  rows.push([carriage, seq, time, current, voltage, travelSpeed, own.energy]);
  if (rows.length >= peerBatch.rows) store();
});
setInterval(() => { if (rows.length > 0) store(); }, peerBatch.seconds * 1_000);
client.on('connect', () => {
  client.subscribe('weld/+/+/readings', { qos: 1 }, () => { tellParent('subscribed'); });
});
