import { collectDefaultMetrics, Counter, Gauge, Registry } from 'prom-client';
import type { OpenMetricsContentType } from 'prom-client';
import type { ItemCounters, IngestPort } from '../ingest-port.js';

/** OpenMetrics 1.0, section "Protocol negotiation". */
export const openMetricsType = 'application/openmetrics-text; version=1.0.0; charset=utf-8';

export interface Metrics {
  /** What is counted now, as OpenMetrics text. */
  read(): Promise<string>;
}

const counters: readonly (readonly [name: string, help: string, value: (now: ItemCounters) => number])[] = [
  ['seamwarden_items_received_total', 'Readings and blocks that came in: stored, duplicate and refused ones', (now) => now.stored + now.duplicate + now.refused],
  ['seamwarden_items_stored_total', 'Items stored', (now) => now.stored],
  ['seamwarden_items_duplicate_total', 'Items that had been stored before', (now) => now.duplicate],
  ['seamwarden_items_refused_total', 'Items and messages that could not be used', (now) => now.refused],
  ['seamwarden_items_conflict_total', 'Duplicates whose content differed from what was stored first', (now) => now.conflict],
  ['seamwarden_unknown_fields_total', 'Fields of messages that are not known and were ignored', (now) => now.unknownFields],
  ['seamwarden_commits_total', 'Transactions committed', (now) => now.commits],
  ['seamwarden_commit_seconds_total', 'Time spent in commits, s', (now) => now.commitSeconds],
];

/** Metrics of this process, and of ingest as they are when asked. `liveReaders` counts the open live feeds. */
export function createMetrics(port: IngestPort, liveReaders: () => number): Metrics {
  const registry = new Registry<OpenMetricsContentType>();
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
  collectDefaultMetrics({ register: registry });
  const kept = counters.map(([name, help, value]) => ({ counter: new Counter({ name, help, registers: [registry] }), value }));
  const storage = new Gauge({ name: 'seamwarden_storage_ok', help: '1 while storage takes writes, else 0', registers: [registry] });
  const readers = new Gauge({ name: 'seamwarden_live_readers', help: 'Open live feeds', registers: [registry] });
  return {
    async read(): Promise<string> {
      // One reading of the counters for all of them, so that their sum holds within an answer.
      const now = port.counters();
      for (const { counter, value } of kept) {
        counter.reset();
        counter.inc(value(now));
      }
      storage.set(port.health().ok ? 1 : 0);
      readers.set(liveReaders());
      return await registry.metrics();
    },
  };
}
