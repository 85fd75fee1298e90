import type { StreamChange } from '../../../shared/records/change-set.js';
import type { AlarmBook } from './alarm-book.js';
import type { CarriageFold } from './fold-state.js';
import type { Intake } from './intake.js';
import { noteSettled, type Outbox } from './outbox.js';
import type { RunBook } from './run-book.js';

/** Everything that ingest keeps in memory for a carriage (or an imported log), in five parts; each is changed only by the functions beside it. */
export interface Carriage {
  /** The id of its stream in the store. */
  readonly id: number;
  readonly site: string;
  readonly carriage: string;
  /** A log is in the past: it raises no alarms, and nobody waits for its live figures. */
  readonly kind: 'live' | 'log';
  /** Name of the log; empty for live data. */
  readonly stream: string;
  readonly intake: Intake;
  readonly fold: CarriageFold;
  readonly runs: RunBook;
  readonly alarms: AlarmBook;
  readonly outbox: Outbox;
}

/** The topic of a carriage, without the kind at its end. */
export function topicOf({ site, carriage }: Pick<Carriage, 'site' | 'carriage'>): string {
  return `weld/${site}/${carriage}`;
}

/** What is stored of a stream besides its runs; `settled` if nothing is in progress for it. */
export function streamChange({ id, site, carriage, stream, intake, outbox }: Carriage, settled: boolean): StreamChange {
  noteSettled(outbox, settled);
  const online = intake.online === null ? null : Number(intake.online);
  return {
    id, site, carriage, stream, online, last_seen: intake.lastSeen, clock_offset: intake.clockOffset, snapshot: outbox.snapshot,
    settled: Number(settled), retired: Number(intake.retired), heard: intake.messageAt,
  };
}
