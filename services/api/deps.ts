import type { Kysely } from 'kysely';
import type { Logger } from 'pino';
import type { ServiceFacts } from '../../shared/api-types/service.js';
import type { Database } from '../../shared/records/tables.js';
import type { TraceReader } from '../../shared/traces/trace-store.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import type { IngestPort } from '../ingest-port.js';

/** Limits on what one service gives its callers. */
export interface ApiLimits {
  /** ms between two comments of the live feed. */
  readonly commentEvery: number;
  /** Readers of the live feed at a time. */
  readonly liveReaders: number;
  /** Bytes of events other than `carriage` that may wait for one reader of the live feed before it is disconnected. */
  readonly liveBacklog: number;
  /** ms within which a reader of the live feed has to read something before it is disconnected. */
  readonly liveStall: number;
  /** Events other than `carriage` that a returning reader can still be given. */
  readonly liveEvents: number;
  readonly writesPerMinute: number;
}

export const defaultLimits: ApiLimits = {
  commentEvery: 15_000,
  liveReaders: 200,
  // All readers that wait share the texts.
  liveBacklog: 8 * 1_048_576,
  liveStall: 15_000,
  liveEvents: 1000,
  writesPerMinute: 3000,
};

/** What the API needs from the rest of the service. It opens nothing and does not listen. */
export interface ApiDeps {
  readonly port: IngestPort;
  /** A connection that only reads. */
  readonly records: Kysely<Database>;
  readonly traces: TraceReader;
  /** By which runs of earlier versions are worked out. */
  readonly weld: Pick<WeldSettings, 'temperatureAge'>;
  readonly log: Logger;
  /** The addresses of the service, as far as they are known by then. */
  readonly service: () => Omit<ServiceFacts, 'version'>;
  /** Folder of the built pages, or null where there are none. */
  readonly pagesDir: string | null;
  readonly limits?: Partial<ApiLimits>;
  /** Ends the live feed's readers and timers. */
  readonly stopped?: AbortSignal;
}
