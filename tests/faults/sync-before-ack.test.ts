import { describe, expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { shown, underSeed } from './outcome.js';
import { noStrace, syncScenario } from './sync-scenario.js';
import { judgeTrace, readTrace } from './sync-trace.js';

const reason = noStrace();
if (reason !== null) console.log(`left out, sync before PUBACK: ${reason}`);

const hex = (bytes: Buffer): string => [...bytes].map((byte) => `\\x${byte.toString(16).padStart(2, '0')}`).join('');
const socket = 'TCP:[127.0.0.1:1883->127.0.0.1:4000]';
const payload = Buffer.from('{"current":1}');
const body = Buffer.concat([Buffer.from([0, 1]), Buffer.from('t'), Buffer.from([0, 7]), payload]);
const packet = Buffer.concat([Buffer.from([0x32, body.length]), body]);
const arrive = `11 read(5<${socket}>, "${hex(packet)}", 65536) = ${packet.length}`;
const write = `11 pwrite64(6<${hex(Buffer.from('/d/x.db-wal'))}>, "${hex(payload)}", ${payload.length}, 0) = ${payload.length}`;
const sync = `11 fdatasync(6<${hex(Buffer.from('/d/x.db-wal'))}>) = 0`;
const failedSync = `11 fdatasync(6<${hex(Buffer.from('/d/x.db-wal'))}>) = -1 EIO (Input/output error)`;
const puback = `11 write(5<${socket}>, "\\x40\\x02\\x00\\x07", 4) = 4`;
const judge = (...lines: string[]): readonly string[] => judgeTrace(readTrace(lines.join('\n')), 1883).problems;

describe('the judge of a trace', () => {
  it('is content with arrival, write, sync, PUBACK', () => {
    expect(judge(arrive, write, sync, puback)).toEqual([]);
  });

  it.each([
    ['a PUBACK before the sync', [arrive, write, puback, sync], 'no sync'],
    ['a sync that failed', [arrive, write, failedSync, puback], 'no sync'],
    ['a sync before the write', [arrive, sync, write, puback], 'no sync'],
    ['a write before the arrival', [write, arrive, sync, puback], 'not written'],
    ['a PUBACK out of nothing', [puback], 'no PUBLISH'],
    ['a sync that has not returned', [arrive, write, sync.replace(') = 0', ' <unfinished ...>'), puback.replace('11 ', '12 '), '11 <... fdatasync resumed>) = 0'], 'no sync'],
  ])('objects to %s', (_name, lines, complaint) => {
    expect(judge(...lines)).toEqual([expect.stringContaining(complaint)]);
  });
});

it.skipIf(reason !== null)('writes and syncs every message before its PUBACK', async () => {
  const outcome = await underSeed((seed) => syncScenario(countFrom('SYNC_MESSAGES', { soon: 200, full: 600 }), seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});
