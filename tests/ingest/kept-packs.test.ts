import { crc32 } from 'node:zlib';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { decodeKept } from '../../services/ingest/fold/decode-kept.js';
import { keepMarks } from '../../services/ingest/fold/keep-marks.js';
import { packMessages, unpackMessages } from '../../services/ingest/fold/message-log-format.js';
import type { KeptMessage } from '../../services/ingest/fold/message-log-format.js';
import type { Statements } from '../../services/ingest/store/statements.js';
import { keptDropper } from '../../services/ingest/store/drop-kept.js';
import { keptFrom } from '../../services/ingest/store/kept-rows.js';
import type { Carriage } from '../../services/ingest/fold/carriage.js';
import { firstTables } from '../../shared/records/migrations/0001-first-tables.js';
import { runSearch } from '../../shared/records/migrations/0002-run-search.js';
import { alarmTable } from '../../shared/records/migrations/0003-alarms.js';
import { takenAssignments } from '../../shared/records/migrations/0004-taken-assignments.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import { sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { keptItems } from '../faults/kept-items.js';
import { openStreams, type OpenStreams } from './open-streams.js';

interface Row {
  readonly id: number;
  readonly first: number | null;
  readonly kind: string;
  readonly size: number;
}

const topic = 'weld/hall/c1/readings';
const reading = (seq: number, current = 600): string => JSON.stringify({ boot: 'b1', seq, time: 1_790_000_000_000 + seq * 100, current, voltage: 31 });

let own: OpenStreams;

beforeEach(() => {
  own = openStreams();
});

afterEach(() => {
  own.close();
  expect(own.problems).toEqual([]);
});

const rows = (): Row[] => own.db.prepare<[], Row>('select id, first, kind, length(payload) as size from kept order by id').all();
const carriage = (name = 'c1'): Carriage => own.streams().stream('hall', name, '');
const statements = (): Statements => own.streams().fold.statements;

/** Does what the recorder does for one commit, without the fold. */
function commit(work: () => void): void {
  own.db.exec('begin immediate');
  work();
  const { all, fold } = own.streams();
  for (const carriage of all.values()) for (const boot of carriage.intake.boots.values()) keepMarks(carriage.id, boot, fold);
  own.db.exec('commit');
}

test('a pack has the bytes that its description says', () => {
  const messages: KeptMessage[] = [
    { number: 7, arrived: 1, kind: 'readings', payload: Buffer.from('{}'), taken: null },
    { number: 300, arrived: 2, kind: 'senml', payload: Buffer.from('[]'), taken: [0, 258] },
  ];
  // 1 and 2 as doubles are 3FF0… and 4000… (IEEE 754); 300 - 7 is 293 = 125h.
  const bytes = ['00000000 000000000000f03f 02000000 00 ffff 7b7d', '25010000 0000000000000040 02000000 01 0200 0000 0201 5b5d'];
  const pack = packMessages(messages);
  const body = Buffer.from(bytes.join('').replaceAll(' ', ''), 'hex');
  const sum = Buffer.alloc(4);
  sum.writeUInt32LE(crc32(body));
  expect(Buffer.from(pack).toString('hex')).toBe(Buffer.concat([body, sum]).toString('hex'));
  expect(unpackMessages(pack, 7)).toEqual(messages);
  // Packs of earlier versions have no sum.
  expect(unpackMessages(body, 7, false)).toEqual(messages);
  for (let length = 1; length < pack.length; length += 1) {
    expect(() => unpackMessages(pack.subarray(0, length), 7), `${length} bytes`).toThrow(RangeError);
    if (length !== 21 && length < body.length) expect(() => unpackMessages(body.subarray(0, length), 7, false), `${length} bytes`).toThrow(RangeError);
  }
  for (let bit = 0; bit < 8 * pack.length; bit += 1) {
    const damaged = Buffer.from(pack);
    damaged.writeUInt8(damaged.readUInt8(bit >> 3) ^ (1 << (bit & 7)), bit >> 3);
    expect(() => unpackMessages(damaged, 7), `bit ${bit}`).toThrow('checksum');
  }
});

test('the messages of a carriage in one commit make one row, and everything that counted is read back as it came', () => {
  const mark = Buffer.from([0xef, 0xbb, 0xbf]);
  commit(() => {
    own.take(topic, reading(0));
    own.take('weld/hall/c2/readings', reading(0, 500));
    own.take(topic, Buffer.concat([mark, Buffer.from(reading(1))]));
    own.take(topic, reading(1));
    own.take(topic, `[${reading(2)}, {"boot": "b1", "seq": 3, "current": "much"},  ${reading(0)}, ${reading(4)}]`);
    own.take('weld/hall/c1/senml', '[{"bn":"x/","n":"current","u":"A","v":600,"t":1790000001},{"n":"voltage","u":"V","v":31,"t":1790000001}]');
    own.take(topic, 'no JSON');
  });
  expect(own.counts).toMatchObject({ stored: 6, duplicate: 2, refused: 2 });
  expect(rows().map(({ kind }) => kind)).toEqual(['pack-crc32', 'pack-crc32']);
  const kept = Object.fromEntries([...keptItems(own.folder, 'hall')].sort());
  expect(kept).toEqual({
    ...Object.fromEntries([0, 1, 2, 4].map((seq) => [`hall/c1 b1 seq ${seq} arc 1`, [reading(seq)]])),
    'hall/c2 b1 seq 0 arc 1': [reading(0, 500)],
  });
  const messages = keptFrom(carriage(), 0, statements());
  expect(messages.map(({ kind, taken }) => [kind, taken])).toEqual([['readings', null], ['readings', null], ['readings', [0, 3]], ['senml', null]]);
  expect(Buffer.from(messages[1]?.payload ?? []).subarray(0, 3)).toEqual(mark);
});

test('numbers of arrival rise in the order of arrival, over commits and restarts, and are the same when read back', () => {
  const taken: (readonly [seq: number | null, arrival: number, arrived: number])[] = [];
  for (let seq = 0; seq < 12; seq += 1) {
    if (seq % 5 === 4) own.restart();
    commit(() => {
      for (let more = 0; more <= seq % 3; more += 1) {
        own.take(topic, `[${reading(100 * seq + 2 * more)}, ${reading(100 * seq + 2 * more + 1)}]`);
        own.take('weld/hall/c2/readings', reading(100 * seq + more));
      }
    });
    taken.push(...carriage().fold.fresh.map((item) => [item.seq, item.arrival, item.arrived] as const));
    carriage().fold.fresh = [];
  }
  expect(taken.length).toBe(48);
  expect(taken.map(([, arrival]) => arrival)).toEqual([...new Set(taken.map(([, arrival]) => arrival))].sort((a, b) => a - b));
  const read = keptFrom(carriage(), 0, statements()).flatMap((message) => decodeKept(carriage().intake, message));
  expect(read.map((item) => [item.seq, item.arrival, item.arrived])).toEqual(taken);
});

test('reads within the transaction include what has only been gathered so far', () => {
  commit(() => {
    own.take(topic, reading(0));
    own.take(topic, reading(1));
    expect(keptFrom(carriage(), 0, statements()).length).toBe(2);
    own.take(topic, reading(2));
    own.streams().finish(carriage());
  });
  expect(keptItems(own.folder, 'hall').size).toBe(3);
  own.restart();
  commit(() => {
    own.streams().finish(carriage());
  });
  expect(carriage().intake.newest?.seq).toBe(2);
});

test('a pack ends at about 1 MiB', () => {
  const samples = JSON.stringify({ list: Array.from({ length: 10_000 }, (_, index) => 600 + (index % 7) / 10) });
  const large = (seq: number): string => reading(seq).replace('{', `{"note": ${JSON.stringify(samples.repeat(6))}, `);
  expect(large(0).length).toBeGreaterThan(300 * 1024);
  commit(() => {
    for (let seq = 0; seq < 7; seq += 1) own.take(topic, large(seq));
  });
  expect(own.counts).toMatchObject({ stored: 7, refused: 0 });
  expect(rows().length).toBeGreaterThan(1);
  for (const { size } of rows()) expect(size).toBeLessThan(1024 * 1024 + 1000);
  expect(keptFrom(carriage(), 0, statements()).map(({ payload }) => Buffer.from(payload).toString())).toEqual(Array.from({ length: 7 }, (_, seq) => large(seq)));
});

test('what a failed transaction gathered is gone, and can be gathered again', () => {
  commit(() => { own.take(topic, reading(0)); });
  own.db.exec('begin immediate');
  own.take(topic, reading(1));
  own.take(topic, reading(2));
  own.db.exec('rollback');
  own.streams().forgetAll();
  commit(() => {
    own.take(topic, reading(2));
    own.take(topic, reading(1));
  });
  expect([...keptItems(own.folder, 'hall').values()].map((copies) => copies.length)).toEqual([1, 1, 1]);
  expect(own.counts.duplicate).toBe(0);
});

test('a pack is cut at the first message that is still needed, and numbers go on rising when all is gone', () => {
  commit(() => {
    for (let seq = 0; seq < 10; seq += 1) own.take(topic, reading(seq));
  });
  commit(() => { own.take(topic, reading(10)); });
  const numbers = keptFrom(carriage(), 0, statements()).map(({ number }) => number);
  const [fifth = 0, last = 0] = [numbers[4], numbers[10]];
  const dropKept = keptDropper(own.db);
  dropKept(carriage().id, fifth, 2_000);
  expect([...keptItems(own.folder, 'hall').keys()].length).toBe(7);
  expect(statements().firstKept.get(carriage().id, 0)).toMatchObject({ first: numbers[4] });
  expect(keptFrom(carriage(), 0, statements()).map(({ number }) => number)).toEqual(numbers.slice(4));
  expect(keptFrom(carriage(), numbers[7] ?? 0, statements()).map(({ payload }) => Buffer.from(payload).toString())).toEqual([7, 8, 9, 10].map((seq) => reading(seq)));
  dropKept(carriage().id, last + 1, 2_000);
  expect(rows()).toEqual([]);
  own.restart();
  commit(() => { own.take(topic, reading(11)); });
  expect(rows()[0]?.id).toBeGreaterThan(last);
});

test('a store of the previous version is opened, and its messages are read', () => {
  const old = openStreams((db: SqliteFile) => {
    for (const statement of [...firstTables, sqliteTracesSchema, ...runSearch, ...alarmTable, ...takenAssignments]) db.exec(statement);
    db.pragma('user_version = 4');
    db.exec("insert into streams (site, carriage, stream) values ('hall', 'c1', '')");
    db.exec("insert into boots (stream_id, boot, rank, marks) values (1, 'b1', 0, '{\"arcs\":{\"1\":{\"first\":0,\"to\":[2],\"step\":[1]}},\"any\":{\"first\":0,\"to\":[2],\"step\":[1]}}')");
    const keep = db.prepare("insert into kept (id, stream_id, arrived, kind, payload, taken) values (?, 1, 5, 'readings', ?, ?)");
    keep.run(40, Buffer.from(reading(0)), null);
    keep.run(41, Buffer.from(`[${reading(9)},${reading(1)},${reading(2)}]`), '[1,2]');
  });
  try {
    const carriage = old.streams().stream('hall', 'c1', '');
    old.db.exec('begin immediate');
    old.take(topic, reading(2));
    old.take(topic, reading(3));
    old.take(topic, reading(4));
    const read = keptFrom(carriage, 0, old.streams().statements).flatMap((message) => decodeKept(carriage.intake, message));
    old.db.exec('commit');
    // 40 × 1024 = 40960 and 41 × 1024 = 41984: arrival numbers that checkpoints of that version may contain.
    expect(read.slice(0, 3).map((item) => [item.seq, item.arrival])).toEqual([[0, 40_960], [1, 41_985], [2, 41_986]]);
    expect(read.slice(3).map((item) => item.seq)).toEqual([3, 4]);
    expect(read[3]?.arrival).toBeGreaterThan(41_986);
    expect(old.counts).toMatchObject({ stored: 2, duplicate: 1 });
    expect([...keptItems(old.folder, 'hall').keys()].length).toBe(5);
  } finally {
    old.close();
  }
});

test('each checkpoint names a message from which on everything behind its place is kept, also where the last came first', () => {
  const last = 4_999;
  commit(() => { own.take(topic, reading(last)); });
  for (let from = 0; from < last; from += 500) {
    commit(() => {
      for (let seq = from; seq < Math.min(from + 500, last); seq += 1) own.take(topic, reading(seq));
    });
  }
  own.restart();
  commit(() => { own.streams().finish(carriage()); });
  const checkpoints = own.db.prepare<[], { position: string; kept_from: number }>('select position, kept_from from checkpoints').all();
  expect(checkpoints.length).toBeGreaterThan(1);
  const numberOf = new Map(keptFrom(carriage(), 0, statements()).map(({ number, payload }) => [(JSON.parse(Buffer.from(payload).toString()) as { seq: number }).seq, number]));
  for (const { position, kept_from } of checkpoints) {
    const { key } = JSON.parse(position) as { key: number };
    for (let seq = key + 1; seq <= last; seq += 1) expect(numberOf.get(seq), `seq ${seq} behind the checkpoint at ${key}`).toBeGreaterThanOrEqual(kept_from);
  }
});
