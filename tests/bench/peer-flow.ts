/** Rows of one INSERT, and s after which fewer are stored. */
export const peerBatch = { rows: 500, seconds: 1 } as const;

export const peerTable = 'CREATE TABLE readings (carriage TEXT, seq INTEGER, time INTEGER, current REAL, voltage REAL, speed REAL, energy REAL)';

/** Energy of each carriage: U·I over the time to the next reading, at most 1 s. */
const energy = `
const carriage = msg.topic.split('/')[2];
const { seq, time, current, voltage, travelSpeed } = msg.payload;
const last = context.get(carriage) || { time, power: 0, energy: 0 };
last.energy += last.power * Math.min(1, (time - last.time) / 1000);
last.power = current * voltage;
last.time = time;
context.set(carriage, last);
msg.payload = [carriage, seq, time, current, voltage, travelSpeed, last.energy];
return msg;`;

const insert = `
msg.topic = 'INSERT INTO readings VALUES ' + msg.payload.map(([carriage, ...rest]) => "('" + carriage + "'," + rest.join(',') + ')').join(',');
msg.payload = [];
return msg;`;

/** A flow as somebody would draw it for this task: subscribe, sum, gather, store. */
export function peerFlow(brokerPort: number, file: string): readonly object[] {
  // Text without a place on the sheet would be taken for configuration.
  const node = (name: string, type: string, next: readonly string[], more: object): object => ({
    id: `node-${name}`, type, z: 'tab', name, x: 100, y: 100, wires: [next.map((own) => `node-${own}`)], ...more,
  });
  return [
    { id: 'tab', type: 'tab', label: 'weld' },
    {
      id: 'broker', type: 'mqtt-broker', name: '', broker: '127.0.0.1', port: String(brokerPort), clientid: 'peer', autoConnect: true, usetls: false, protocolVersion: '4',
      keepalive: '60', cleansession: false, autoUnsubscribe: false,
    },
    { id: 'store', type: 'sqlitedb', db: file, mode: 'RWC' },
    node('in', 'mqtt in', ['energy'], { topic: 'weld/+/+/readings', qos: '1', datatype: 'json', broker: 'broker', nl: false, rap: true, rh: 0, inputs: 0 }),
    node('energy', 'function', ['gather'], { func: energy, outputs: 1, timeout: 0, noerr: 0, initialize: '', finalize: '', libs: [] }),
    node('gather', 'join', ['insert'], {
      mode: 'custom', build: 'array', property: 'payload', propertyType: 'msg', key: 'topic', joiner: '\\n', joinerType: 'str', useparts: false, accumulate: false,
      timeout: String(peerBatch.seconds), count: String(peerBatch.rows), reduceRight: false, reduceExp: '', reduceInit: '', reduceInitType: '', reduceFixup: '',
    }),
    node('insert', 'function', ['sqlite'], { func: insert, outputs: 1, timeout: 0, noerr: 0, initialize: '', finalize: '', libs: [] }),
    node('sqlite', 'sqlite', [], { mydb: 'store', sqlquery: 'msg.topic', sql: '' }),
  ];
}

/** Settings of the engine: no editor, nothing that asks elsewhere for news. */
export function peerSettings(): string {
  return `module.exports = ${JSON.stringify({
    uiHost: '127.0.0.1', uiPort: 0, credentialSecret: false, httpAdminRoot: false, httpNodeRoot: false, telemetry: { enabled: false, updateNotification: false },
    logging: { console: { level: 'error', metrics: false, audit: false } },
  })};\n`;
}
