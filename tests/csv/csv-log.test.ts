import { describe, expect, test } from 'vitest';
import { parseLog } from './parse-log.js';
import type { ParsedLog } from './parse-log.js';
import { unsentValues } from '../unsent.js';

const start = Date.UTC(2026, 10, 25, 6);
const read = (lines: readonly string[], zero: number | null = start): ParsedLog => parseLog(lines.join('\n'), { start: zero });

/** Times in s from the start. */
const seconds = (log: ParsedLog): number[] => log.items.map((item) => ((item.time ?? Number.NaN) - start * 1000) / 1e6);

describe('lines of a slow log', () => {
  test('each is a reading with what it says, and no more', () => {
    const log = read([
      'voltage,time,current,travelSpeed,wireFeedSpeed,travel,plateTemperature',
      '31.2,0,612.4,520,1.21,0,118',
      '31.0,0.1,611.9,,,,',
    ]);
    expect(log.failure).toBeNull();
    expect(log.refused).toEqual([]);
    expect(log.items).toEqual([
      {
        boot: log.items[0]?.boot, seq: 1, time: start * 1000, arc: 1, interval: null, count: 1,
        current: 612.4, voltage: 31.2, ...unsentValues, travelSpeed: 520, wireFeedSpeed: 1.21, travel: 0, plateTemperature: 118,
      },
      {
        boot: log.items[0]?.boot, seq: 2, time: start * 1000 + 100_000, arc: 1, interval: null, count: 1,
        current: 611.9, voltage: 31, ...unsentValues,
      },
    ]);
    expect(log.messages).toHaveLength(2);
  });
});

describe('forms of CSV', () => {
  const expected = [[600, 30], [601, 31]];
  test.each([
    ['LF', 'time,current,voltage\n0,600,30\n1,601,31\n'],
    ['CR LF and byte order mark', '\uFEFFtime,current,voltage\r\n0,600,30\r\n1,601,31'],
    ['CR', 'time,current,voltage\r0,600,30\r1,601,31\r'],
    ['quotes', '"time","current","voltage"\n"0","600","30"\n"1",601,"31"\n'],
    ['blanks and blank lines', '\n time , Current ,VOLTAGE\n\n 0 , 600 , 30 \n\n1,601,31\n\n'],
    ['semicolons', 'time;current;voltage\n0;600;30\n1;601;31'],
    ['decimal commas', 'time;current;voltage\n0,0;600,0;3,0e1\n1,0;601,0;31'],
    ['a delimiter and a doubled quote inside quotes', 'note,time,current,voltage\n"a, ""b""",0,600,30\nc,1,601,31'],
    ['a field over two lines', 'note,time,current,voltage\n"a\nb",0,600,30\nc,1,601,31'],
  ])('%s', (_, text) => {
    const log = parseLog(text, { start });
    expect(log.failure).toBeNull();
    expect(log.refused).toEqual([]);
    expect(log.items.map((item) => [item.current, item.voltage])).toEqual(expected);
    expect(seconds(log)).toEqual([0, 1]);
  });

  test('unknown columns are ignored', () => {
    const log = read(['time,current,voltage,Schicht,flux', '0,600,30,A,x', '1,600,30,,']);
    expect(log.items).toEqual(read(['time,current,voltage', '0,600,30', '1,600,30']).items.map((item) => ({ ...item, boot: log.items[0]?.boot })));
    expect(log.items).toHaveLength(2);
  });
});

describe('what cannot be read at all', () => {
  test.each([
    ['', 'the log is empty'],
    ['\n \n', 'the log is empty'],
    ['0,600,30\n1,600,30', 'header "0, 600, 30": has no time, current, voltage; expected a line that names the columns time, current'],
    ['time,current\n0,600', 'header "time, current": has no voltage'],
    ['time,current,voltage,Current\n0,600,30,1', 'header: the column current occurs twice'],
    ['time\tcurrent\tvoltage\n0\t600\t30', 'has no time, current, voltage'],
  ])('%j', (text, reason) => {
    const log = parseLog(text, { start });
    expect(log.failure).toContain(reason);
    expect(log.items).toEqual([]);
  });
});

describe('bad lines are refused alone, by their number and with the column, what it got and what it takes', () => {
  const bad = (header: string, line: string): string | undefined => {
    const log = read([header, header.replaceAll(/[a-z]\w*/gi, '1'), '', line, header.replaceAll(/[a-z]\w*/gi, '2')]);
    expect(log.refused).toHaveLength(1);
    expect(log.items).toHaveLength(2);
    // The refused line leaves a hole.
    expect(log.items.map((item) => item.seq)).toEqual([1, 3]);
    expect(log.refused[0]?.line).toBe(4);
    return log.refused[0]?.reason;
  };
  const all = 'time,current,voltage,travelSpeed,wireFeedSpeed,travel,plateTemperature,arc';

  test.each([
    ['1.5,600,x3,1,1,1,1,1', 'voltage "x3": expected a number from -500 to 500 (V)'],
    ['1.5,,30,1,1,1,1,1', 'current "": expected a number from -5000 to 5000 (A)'],
    ['1.5,5000.1,30,1,1,1,1,1', 'current "5000.1": expected a number from -5000 to 5000 (A)'],
    ['1.5,NaN,30,1,1,1,1,1', 'current "NaN": expected'],
    ['1.5,1e999,30,1,1,1,1,1', 'current "1e999": expected'],
    ['1.5,0x10,30,1,1,1,1,1', 'current "0x10": expected'],
    ['1.5,600,-500.01,1,1,1,1,1', 'voltage "-500.01": expected a number from -500 to 500 (V)'],
    ['1.5,600,30,20001,1,1,1,1', 'travelSpeed "20001": expected a number from -20000 to 20000 (mm/min)'],
    ['1.5,600,30,1,-101,1,1,1', 'wireFeedSpeed "-101": expected a number from -100 to 100 (m/min)'],
    ['1.5,600,30,1,1,1e8,1,1', 'travel "1e8": expected a number from -10000000 to 10000000 (mm)'],
    ['1.5,600,30,1,1,1,1501,1', 'plateTemperature "1501": expected a number from -100 to 1500 (°C)'],
    ['1.5,600,30,1,1,1,1,7', 'arc "7": expected a whole number from 1 to 6'],
    ['1.5,600,30,1,1,1,1,1.5', 'arc "1.5": expected a whole number from 1 to 6'],
    ['1.5,600,30,1,1,1,1,', 'arc "": expected a whole number from 1 to 6'],
    ['soon,600,30,1,1,1,1,1', 'time "soon": expected s from the zero of the log, s since 1970, or Unix milliseconds or RFC 3339 text'],
    [',600,30,1,1,1,1,1', 'time "": expected'],
    ['1795590000000,600,30,1,1,1,1,1', 'time "1795590000000": expected s from the zero of the log, as in the first line'],
    ['1.5,600,30', 'line: got 3 fields, expected 8 as in the header'],
    ['1.5,600,30,1,1,1,1,1,1', 'line: got 9 fields, expected 8 as in the header'],
    ['1.5,"600,30,1,1,1,1,1', 'quotes "1.5,\\"600,30,1,1,1,1,1": expected fields in "…"'],
    ['1.5,60"0,30,1,1,1,1,1', 'quotes '],
  ])('%s', (line, reason) => {
    expect(bad(all, line)).toContain(reason);
  });

  test('a decimal comma needs the semicolon, and digits are never grouped', () => {
    expect(bad('time;current;voltage', '1,5;1.234,5;30')).toContain('current "1.234,5": expected');
    expect(bad('time,current,voltage', '1,5,600,30')).toContain('line: got 4 fields, expected 3');
  });

  test('two stray quotes do not swallow the good lines between them', () => {
    const log = read(['time,current,voltage', '0,600,30', '1,"600,30', '2,600,30', '3,600,30', '4,600",30', '5,600,30']);
    expect(log.refused.map((refused) => refused.line)).toEqual([3, 6]);
    expect(seconds(log)).toEqual([0, 2, 3, 5]);
  });

  test('line numbers count the lines of a field that runs over several', () => {
    const log = read(['note,time,current,voltage', '"a', 'b",0,600,30', 'c,x,600,30']);
    expect(log.items).toHaveLength(1);
    expect(log.refused.map((refused) => refused.line)).toEqual([4]);
  });
});

describe('times', () => {
  const times = (values: readonly string[], zero: number | null = null): ParsedLog =>
    read(['time,current,voltage', ...values.map((value) => `${value},600,30`)], zero);
  const micros = (log: ParsedLog): (number | null)[] => log.items.map((item) => item.time);

  test('relative ones are added to the start, or count from 1970', () => {
    expect(micros(times(['0', '1.5', '99999999'], 1000))).toEqual([1e6, 2.5e6, 1e14]);
    expect(times(['0', '1.5'], 1000).relativeTime).toBe(true);
    expect(micros(times(['12.3456789', '13']))).toEqual([12_345_679, 13_000_000]);
    expect(times(['0']).relativeTime).toBe(true);
  });

  test('times before the zero need a start', () => {
    expect(micros(times(['-0.5', '0.5'], start))).toEqual([start * 1000 - 500_000, start * 1000 + 500_000]);
    expect(times(['-0.5', '0.5']).refused[0]?.reason).toContain('time "-0.5": expected s from the zero of the log, at a time between 1970 and 2106');
  });

  test('timestamps are absolute, whatever the start', () => {
    const at = Date.UTC(2026, 10, 25, 7, 15, 0, 250) * 1000;
    for (const value of ['1795590900250', '1795590900.25', '2026-11-25T07:15:00.25Z', '2026-11-25T08:15:00.250000+01:00', '2026-11-25 07:15:00.25z']) {
      const log = times([value], 12345);
      expect(micros(log)).toEqual([at]);
      expect(log.relativeTime).toBe(false);
    }
    expect(micros(times(['1795590900250.125']))).toEqual([at + 125]);
  });

  test('a local time without zone is refused', () => {
    expect(times(['2026-11-25T07:15:00']).refused).toHaveLength(1);
  });
});
