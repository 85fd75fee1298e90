import { describe, expect, test } from 'vitest';
import { parseTopic } from '../../../shared/weld/decode/decode-topic.js';

describe('topics', () => {
  test.each(['readings', 'senml', 'assignment', 'status'])('weld/hall-1/C_07/%s', (kind) => {
    expect(parseTopic(`weld/hall-1/C_07/${kind}`)).toEqual({ site: 'hall-1', carriage: 'C_07', kind });
  });

  test('names of 1 and 64 characters', () => {
    expect(parseTopic(`weld/a/${'b'.repeat(64)}/readings`)).toMatchObject({ site: 'a', carriage: 'b'.repeat(64) });
  });

  const form = 'expected: weld/{site}/{carriage}/{kind}';
  const characters = 'expected: 1 to 64 of the characters A-Z, a-z, 0-9, _ and -';
  test.each([
    ['', `topic: got ""; ${form}`],
    ['weld/a/b', `topic: got "weld/a/b"; ${form}`],
    ['weld/a/b/readings/x', `topic: got "weld/a/b/readings/x"; ${form}`],
    ['Weld/a/b/readings', `topic: got "Weld/a/b/readings"; ${form}`],
    ['/weld/a/b/readings', `topic: got "/weld/a/b/readings"; ${form}`],
    ['weld//b/readings', `site: got ""; ${characters}`],
    ['weld/a b/b/readings', `site: got "a b"; ${characters}`],
    ['weld/a/b.c/readings', `carriage: got "b.c"; ${characters}`],
    [`weld/a/${'b'.repeat(65)}/readings`, `carriage: got "${'b'.repeat(63)}; ${characters}`],
    ['weld/a/b/live', 'kind: got "live"; expected: readings, senml, assignment, status'],
    ['weld/a/b/Readings', 'kind: got "Readings"; expected: readings, senml, assignment, status'],
    ['weld/a/b/', 'kind: got ""; expected: readings, senml, assignment, status'],
  ])('%j', (topic, reason) => {
    expect(parseTopic(topic)).toEqual({ reason });
  });
});
