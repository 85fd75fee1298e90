import { afterEach, beforeEach, expect, test } from 'vitest';
import { runDueWork } from '../../services/ingest/writer/run-due-work.js';
import { isQuiet, unloadQuiet } from '../../services/ingest/writer/quiet-streams.js';
import { forgetUnused, retireCarriage, type GoneCarriage } from '../../services/ingest/writer/retire-carriage.js';
import { gatherLeaving, gatherUnused } from '../../services/ingest/writer/gather-carriage.js';
import type { StreamAccess } from '../../services/ingest/writer/stream-access.js';
import { openStore } from '../../services/ingest/store/open-store.js';
import { streamAccess } from '../../services/ingest/writer/stream-access.js';
import { openStreams } from './open-streams.js';
import type { OpenStreams } from './open-streams.js';

let own: OpenStreams;

beforeEach(() => {
  own = openStreams();
});

afterEach(() => {
  own.close();
  expect(own.problems).toEqual([]);
});

let seq = 0;
const day = 86_400e6;

/** Sends readings at 10 Hz; with an arc they make a run, which is over 61 s later. */
function send(carriage: string, current: number): void {
  for (let k = 0; k < 30; k += 1) {
    own.now += 100_000;
    own.take(`weld/hall/${carriage}/readings`, JSON.stringify({ boot: 'b1', seq: (seq += 1), time: own.now / 1e3, current, voltage: current === 0 ? 0 : 31, travelSpeed: 500 }));
  }
}

/** Ticks once a second. */
function wait(seconds: number): void {
  for (let k = 0; k < seconds; k += 1) {
    own.now += 1e6;
    runDueWork(own.streams(), () => undefined);
  }
}

const listed = (): string[] => own.streams().fold.statements.liveStreams.all().filter(({ id }) => own.streams().fold.statements.stream.get(id)?.snapshot != null).map(({ carriage }) => carriage).sort();
const count = (table: string): number => own.db.prepare<[], { count: number }>(`select count(*) as count from ${table}`).get()?.count ?? -1;
const forget = (): GoneCarriage[] => forgetUnused(gatherUnused(own.streams()), own.streams());
const retire = (carriage: string, streams: StreamAccess = own.streams()): unknown => {
  const leaving = gatherLeaving(streams, 'hall', carriage);
  return 'failed' in leaving ? leaving : retireCarriage(leaving, streams);
};

test('a carriage without runs is forgotten with all that was kept of it', () => {
  send('trial', 0);
  wait(3);
  expect([listed(), count('kept')]).toEqual([['trial'], 1]);
  expect(retire('trial')).toEqual({ site: 'hall', carriage: 'trial' });
  expect([listed(), ...['streams', 'boots', 'kept', 'checkpoints'].map(count)]).toEqual([[], 0, 0, 0, 0]);
  expect(retire('trial')).toMatchObject({ failed: 'notFound' });
  send('trial', 0);
  wait(3);
  expect(listed()).toEqual(['trial']);
});

test('a welding carriage is not removed; one with runs is hidden until it sends again, and its runs stay', () => {
  send('c1', 600);
  wait(1);
  expect(retire('c1')).toMatchObject({ failed: 'conflict' });
  send('c1', 0);
  wait(70);
  expect(retire('c1')).toMatchObject({ carriage: 'c1' });
  wait(3);
  expect([listed(), count('runs')]).toEqual([[], 1]);
  expect(retire('c1')).toMatchObject({ failed: 'notFound' });
  // The empty message may be our own.
  own.take('weld/hall/c1/assignment', '');
  own.take('weld/hall/c1/status', '');
  wait(3);
  expect(listed()).toEqual([]);
  own.restart();
  send('c1', 0);
  wait(3);
  expect([listed(), count('runs')]).toEqual([['c1'], 1]);
});

test('an empty message makes no carriage', () => {
  own.take('weld/hall/nobody/assignment', '');
  own.take('weld/hall/nobody/status', '');
  expect([count('streams'), count('refused')]).toEqual([0, 0]);
});

test('a carriage that never welded and has no job is forgotten after a month, and nothing else', () => {
  send('welded', 600);
  send('welded', 0);
  send('trial', 0);
  own.take('weld/hall/planned/assignment', JSON.stringify({ seam: 'A', run: 1 }));
  wait(70);
  own.now += 29 * day;
  expect(forget()).toEqual([]);
  send('young', 0);
  wait(3);
  own.now += 2 * day;
  expect(forget()).toEqual([{ site: 'hall', carriage: 'trial' }]);
  expect(listed()).toEqual(['planned', 'welded', 'young']);
});

test('beyond the limit a carriage is refused with a reason, known ones continue, and removing one makes room', () => {
  let told = 0;
  const { fold } = own.streams();
  const few = streamAccess({ fold, store: openStore(own.db), log: () => undefined, onLimit: () => (told += 1), mostCarriages: 2 });
  for (const name of ['c1', 'c2', 'c1']) expect(few.ofTopic(`weld/hall/${name}/readings`)).toMatchObject({ kind: 'readings' });
  expect(few.ofTopic('weld/hall/c3/readings')).toEqual({ reason: expect.stringContaining('there are 2 carriages already') as string });
  expect(told).toBe(1);
  expect(count('streams')).toBe(2);
  expect(retire('c2', few)).toMatchObject({ carriage: 'c2' });
  expect(count('streams')).toBe(1);
  expect(few.ofTopic('weld/hall/c3/readings')).toMatchObject({ kind: 'readings' });
});

test('a carriage that is quiet leaves the commits, and memory when no run of it can change, and comes back as it was', () => {
  send('c1', 600);
  wait(2);
  expect(own.streams().due.size()).toBe(1);
  // Silence is reported after 5 s and the run is over after 60 s; until then something is still due.
  wait(50);
  expect(own.streams().due.size()).toBe(1);
  wait(20);
  expect([own.streams().due.size(), own.streams().all.size]).toEqual([0, 1]);
  const stream = own.streams().all.get('hall/c1/');
  expect(stream !== undefined && isQuiet(stream)).toBe(true);
  unloadQuiet(own.streams());
  expect(own.streams().all.size).toBe(1);
  own.now += 961e6;
  unloadQuiet(own.streams());
  expect([own.streams().all.size, own.streams().fold.statements.unsettledStreams.all()]).toEqual([0, []]);
  const before = own.db.prepare<[], { record: string }>('select record from runs').all();
  // Sending the same items again changes nothing.
  seq -= 30;
  own.counts.duplicate = 0;
  send('c1', 600);
  wait(3);
  expect(own.counts.duplicate).toBe(30);
  expect(own.db.prepare<[], { record: string }>('select record from runs').all()).toEqual(before);
});

test('an empty message of readings is refused and counted whoever sends it, though it creates no carriage; a cleared retained message is not refused', () => {
  for (const kind of ['readings', 'senml', 'assignment', 'status']) own.take(`weld/hall/nobody/${kind}`, '');
  expect([own.counts.refused, count('refused'), count('streams')]).toEqual([2, 2, 0]);
  send('c1', 600);
  send('c1', 0);
  wait(70);
  expect(retire('c1')).toEqual({ site: 'hall', carriage: 'c1' });
  own.take('weld/hall/c1/readings', '');
  own.take('weld/hall/c1/assignment', '');
  expect(own.counts.refused).toBe(3);
});
