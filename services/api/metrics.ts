import type { Kysely } from 'kysely';
import { collectDefaultMetrics, Counter, Gauge, Histogram, Registry, type OpenMetricsContentType } from 'prom-client';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { countAlarms } from '../../shared/records/alarms.js';
import type { Database } from '../../shared/records/tables.js';
import type { ItemCounters, IngestPort } from '../ingest-port.js';

/** OpenMetrics 1.0, section "Protocol negotiation". */
export const openMetricsType = 'application/openmetrics-text; version=1.0.0; charset=utf-8';

export interface Metrics {
  /** The current counters, as OpenMetrics text. */
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
  ['seamwarden_broker_connects_total', 'Connections made to the outside broker', (now) => now.brokerConnects],
];

/** Metrics of this process, and of ingest as they are when asked. `liveReaders` counts the open live feeds. */
export function createMetrics(port: IngestPort, records: Kysely<Database>, liveReaders: () => number): Metrics {
  const registry = new Registry<OpenMetricsContentType>();
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
  collectDefaultMetrics({ register: registry });
  const kept = counters.map(([name, help, value]) => ({ counter: new Counter({ name, help, registers: [registry] }), value }));
  const gauges = makeGauges(registry);
  observeCommits(port, registry);
  return {
    async read(): Promise<string> {
      // One reading of the counters for all of them, so that their sum holds within an answer.
      const now = port.counters();
      for (const { counter, value } of kept) {
        counter.reset();
        counter.inc(value(now));
      }
      gauges.storage.set(port.health().ok ? 1 : 0);
      gauges.readers.set(liveReaders());
      gauges.queued.set(now.queued);
      gauges.alarms.reset();
      for (const { priority, state, count } of await countAlarms(records)) gauges.alarms.set({ priority: priority ?? 'medium', state }, count);
      const text = await registry.metrics();
      // The end of the text is marked at its end (OpenMetrics 1.0, section "ABNF").
      return text.replace(/# EOF\n$/, `${carriageMetrics(port.carriages(), Date.now())}# EOF\n`);
    },
  };
}

function makeGauges(registry: Registry<OpenMetricsContentType>) {
  const registers = [registry];
  return {
    storage: new Gauge({ name: 'seamwarden_storage_ok', help: '1 while data can be stored, else 0', registers }),
    readers: new Gauge({ name: 'seamwarden_live_readers', help: 'Open live feeds', registers }),
    queued: new Gauge({ name: 'seamwarden_messages_queued', help: 'Messages that wait for a commit', registers }),
    alarms: new Gauge({ name: 'seamwarden_alarms_standing', help: 'Alarms of carriages that stand, by priority and state', labelNames: ['priority', 'state'], registers }),
  };
}

/** Bounds from the sync of a fast disk to one that is barely usable. */
const secondBounds = [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5];

function observeCommits(port: IngestPort, registry: Registry<OpenMetricsContentType>): void {
  const registers = [registry];
  const messages = new Histogram({ name: 'seamwarden_commit_messages', help: 'Messages in one commit', buckets: [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000], registers });
  const seconds = new Histogram({ name: 'seamwarden_commit_duration_seconds', help: 'Time that one commit of messages took, its sync included, s', buckets: secondBounds, registers });
  const waited = new Histogram({ name: 'seamwarden_commit_lag_seconds', help: 'Time from the arrival of the oldest message of a commit to its acknowledgement, s', buckets: secondBounds, registers });
  port.onCommits((commits) => {
    for (const commit of commits) {
      messages.observe(commit.messages);
      seconds.observe(commit.seconds);
      waited.observe(commit.waited);
    }
  });
}

/** Carriages that have been silent for longer are in no metric, ms, so that a name used once does not make a series for ever. */
const heardWithin = 86_400_000;

type Read = Partial<Pick<Carriage, 'site' | 'carriage' | 'clockOffset' | 'lastSeen' | 'welding'>>;

interface Family {
  readonly name: string;
  readonly help: string;
  readonly value: (carriage: Read, now: number) => number | null;
}

const families: readonly Family[] = [
  { name: 'seamwarden_carriage_clock_offset_seconds', help: 'Arrival minus device time of the newest item, s', value: ({ clockOffset }) => clockOffset ?? null },
  {
    name: 'seamwarden_carriage_silence_seconds', help: 'Time since the newest item of a carriage came, s',
    value: ({ lastSeen }, now) => (typeof lastSeen === 'string' ? Math.max(0, (now - Date.parse(lastSeen)) / 1e3) : null),
  },
  { name: 'seamwarden_carriage_welding', help: '1 while an arc of the carriage burns, else 0', value: ({ welding }) => (welding === true ? 1 : 0) },
];

/**
 * Gauges of the carriages heard within a day, as OpenMetrics text without its end. `texts` are their answers; `now` is ms since 1970. Written
 * straight from there: a client library takes seconds for some thousand carriages. Names hold nothing that would have to be escaped.
 */
function carriageMetrics(texts: readonly string[], now: number): string {
  const heard = texts.map((text) => JSON.parse(text) as Read).filter(({ lastSeen }) => typeof lastSeen === 'string' && now - Date.parse(lastSeen) <= heardWithin);
  return families.map((family) => written(family, heard, now)).join('');
}

function written({ name, help, value }: Family, carriages: readonly Read[], now: number): string {
  const lines = carriages.flatMap((carriage) => {
    const own = value(carriage, now);
    return own === null ? [] : [`${name}{site="${carriage.site ?? ''}",carriage="${carriage.carriage ?? ''}"} ${own}\n`];
  });
  return `# HELP ${name} ${help}\n# TYPE ${name} gauge\n${lines.join('')}`;
}
