import type { StreamChange } from '../../../shared/records/change-set.js';
import type { AlarmBook } from './alarm-book.js';
import type { CarriageFold } from './fold-state.js';
import type { Intake } from './intake.js';
import { noteSettled, type Outbox } from './outbox.js';
import type { RunBook } from './run-book.js';

/** Everything that ingest holds of one carriage (or one imported log), in five parts; each is changed by the functions beside it. */
export interface Carriage {
  /** Of its stream in the store. */
  readonly id: number;
  readonly site: string;
  readonly carriage: string;
  /** A log is of the past: it raises nothing, and nobody waits for what it tells. */
  readonly kind: 'live' | 'log';
  /** Name of the log; empty for what comes live. */
  readonly stream: string;
  readonly intake: Intake;
  readonly fold: CarriageFold;
  readonly runs: RunBook;
  readonly alarms: AlarmBook;
  readonly outbox: Outbox;
}

/** The topic of a carriage without its kind. */
export function topicOf({ site, carriage }: Pick<Carriage, 'site' | 'carriage'>): string {
  return `weld/${site}/${carriage}`;
}

/** What is stored of a stream besides its runs; `settled` where nothing is under way for it. */
export function streamChange({ id, site, carriage, stream, intake, outbox }: Carriage, settled: boolean): StreamChange {
  noteSettled(outbox, settled);
  const online = intake.online === null ? null : Number(intake.online);
  return {
    id, site, carriage, stream, online, last_seen: intake.lastSeen, clock_offset: intake.clockOffset, snapshot: outbox.snapshot,
    settled: Number(settled), retired: Number(intake.retired), heard: intake.messageAt,
  };
}
