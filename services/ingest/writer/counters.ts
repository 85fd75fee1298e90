import { recordOf } from '../../../shared/weld/rows/record-of.js';
import type { ItemCounters } from '../../ingest-port.js';

const names = ['stored', 'duplicate', 'refused', 'conflict', 'unknownFields', 'commits', 'commitMicroseconds', 'brokerConnects', 'queued'] as const;

/** Counters in memory shared by both threads: ingest adds, HTTP reads. */
export interface Counters {
  add(name: (typeof names)[number], by: number): void;
  set(name: 'queued', to: number): void;
}

export function countersMemory(): SharedArrayBuffer {
  return new SharedArrayBuffer(names.length * BigInt64Array.BYTES_PER_ELEMENT);
}

export function writeCounters(memory: SharedArrayBuffer): Counters {
  const cells = new BigInt64Array(memory);
  return {
    add: (name, by) => {
      if (by !== 0) Atomics.add(cells, names.indexOf(name), BigInt(by));
    },
    set: (name, to) => { Atomics.store(cells, names.indexOf(name), BigInt(to)); },
  };
}

export function readCounters(memory: SharedArrayBuffer): ItemCounters {
  const cells = new BigInt64Array(memory);
  const { commitMicroseconds, ...others } = recordOf(names, (name) => Number(Atomics.load(cells, names.indexOf(name))));
  return { ...others, commitSeconds: commitMicroseconds / 1e6 };
}
