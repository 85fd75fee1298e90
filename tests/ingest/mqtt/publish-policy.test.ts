import { describe, expect, it } from 'vitest';
import { publishPolicy, retainedBudget } from '../../../services/ingest/mqtt/publish-policy.js';

describe('what a client may publish', () => {
  it.each([
    ['weld/a/b/readings', { handOn: true, distribute: true, retain: false }],
    ['weld/a/b/senml', { handOn: true, distribute: true, retain: false }],
    ['weld/a/b/status', { handOn: true, distribute: true, retain: true }],
    ['weld/a/b/assignment', { handOn: true, distribute: true, retain: true }],
    ['weld/a b/c/status', { handOn: true, distribute: true, retain: false }],
    ['weld/a/b/live', { handOn: true, distribute: false, retain: false }],
    ['weld/a/b/stored', { handOn: true, distribute: false, retain: false }],
    ['weld/a/b/c/d', { handOn: true, distribute: true, retain: false }],
    ['weld', { handOn: true, distribute: true, retain: false }],
    ['welding/a', { handOn: false, distribute: true, retain: true }],
    ['$SYS/x', null],
  ])('%s', (topic, policy) => {
    expect(publishPolicy(topic)).toEqual(policy);
  });

  it('keeps no more than its bytes, and takes places back', () => {
    // Each costs 1 KiB besides its bytes.
    const fits = retainedBudget(1_124);
    expect(fits('a', 60)).toBe(true);
    expect(fits('b', 60)).toBe(false);
    expect(fits('a', 99)).toBe(true);
    expect(fits('a', 0)).toBe(true);
    expect(fits('b', 60)).toBe(true);
  });
});
