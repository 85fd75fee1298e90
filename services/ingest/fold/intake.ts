import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { Measurement } from '../../../shared/weld/temperatures/measurement.js';
import { emptyTally, type ItemTally } from '../../../shared/weld/items/item-tally.js';
import type { Timeline } from '../../../shared/weld/run/assignment-timeline.js';
import type { SensorRevision } from '../../../shared/weld/run/sensor-timeline.js';
import { assignmentAt } from '../../../shared/weld/run/turn-series.js';
import { comparePositions, type OrderedItem } from '../../../shared/weld/items/order.js';
import { emptySeqSet } from '../../../shared/weld/items/seq-marks.js';
import type { BootMarks } from '../../../shared/weld/items/seq-marks-text.js';
import type { KeptMessage } from './message-log-format.js';

/** Where an imported log came from; its time µs since 1970. */
export interface LogOrigin {
  readonly at: number;
  readonly file: string | null;
  readonly by: string | null;
}

/** One boot of the device: the sequence numbers seen, per arc and (for the `stored` topic) over all arcs. */
export interface BootState {
  readonly boot: string;
  readonly rank: number;
  readonly marks: BootMarks;
  /** The items of the boot that counted; null in a store of an earlier version until the stream is read. */
  taken: ItemTally | null;
  /** Whether memory is ahead of the store: not at all, by messages that are kept, or by more than the kept messages show. */
  ahead: 'no' | 'byKept' | 'byMore';
  /** The stored marks differ from what was written: they are not overwritten. */
  readonly lost?: true;
}

/** What a carriage has sent and been assigned, as far as it was received and kept. */
export interface Intake {
  /** The origin of an imported log; null if it is not known. */
  origin: LogOrigin | null;
  online: boolean | null;
  /** Arrival time of the newest item, µs, and that of each arc since the carriage was loaded. */
  lastSeen: number | null;
  readonly heard: Map<number, number>;
  /** Arrival time of the newest message of any kind, µs, and when the carriage was last accessed, µs of the steady clock. */
  messageAt: number | null;
  touchedAt: number;
  /** The carriage is shown nowhere until it sends again. */
  retired: boolean;
  clockOffset: number | null;
  readonly boots: Map<string, BootState>;
  /** Names of its boots, the newest last. */
  readonly bootOrder: string[];
  /** Newest time of items without sequence, per arc: anything later cannot be a duplicate. */
  readonly newestTimes: Map<number, number>;
  timeLines: number;
  /** The stored times among those of the items without sequence in memory or just received, as `arc time`. */
  readonly knownTimes: Set<string>;
  /** The assignments, each one's place among the stored ones, and how many are stored: some may not be readable. */
  readonly timeline: Timeline;
  readonly assignmentPlaces: number[];
  assignments: number;
  /** What was declared of its sensors, the oldest first. */
  readonly sensors: SensorRevision[];
  /** The temperatures that were entered last at the carriage and at its runs, in the order in which they were entered. */
  temperatures: readonly Measurement[];
  newest: OrderedItem | null;
  readonly newestOfArc: Map<number, OrderedItem>;
  /** Messages of the current transaction that are to be kept and are not yet written, and the bytes of their payloads. */
  gathered: KeptMessage[];
  gatheredBytes: number;
}

/** The intake of a carriage that has never sent anything, except for what is `known`. */
export function startIntake(known: Partial<Intake> = {}): Intake {
  return {
    origin: null, online: null, lastSeen: null, heard: new Map(), messageAt: null, touchedAt: 0, retired: false, clockOffset: null,
    boots: new Map(), bootOrder: [], newestTimes: new Map(), timeLines: 0, knownTimes: new Set(), timeline: [], assignmentPlaces: [], assignments: 0, sensors: [], temperatures: [],
    newest: null, newestOfArc: new Map(), gathered: [], gatheredBytes: 0, ...known,
  };
}

/** The assignment of an epoch; null if the epoch has none. */
export function assignmentOf({ timeline }: Intake, epoch: number): Assignment | null {
  return assignmentAt(timeline, epoch);
}

/** The assignment of a run: the one that a person gave it, else the one that was in force. */
export function assignmentOfRun(intake: Intake, { override, epoch }: { readonly override: string | null; readonly epoch: number }): Assignment | null {
  return override === null ? assignmentOf(intake, epoch) : (JSON.parse(override) as Assignment);
}

export function noMarks(): BootMarks {
  return { arcs: {}, any: emptySeqSet() };
}

/** The boot's state; a boot never seen before gets the next rank. */
export function bootOf(intake: Intake, boot: string): BootState {
  return intake.boots.get(boot) ?? addBoot(intake, { boot, rank: intake.boots.size, marks: noMarks(), taken: emptyTally(), ahead: 'byMore' });
}

/** Adds a boot; boots must be added in the order of their ranks. */
export function addBoot({ boots, bootOrder }: Intake, own: BootState): BootState {
  boots.set(own.boot, own);
  if (own.boot !== '') bootOrder.push(own.boot);
  return own;
}

/** Notes an item that is the newest in order, of the carriage or of its arc. */
export function noteNewest(intake: Intake, item: OrderedItem): void {
  if (intake.newest === null || comparePositions(item, intake.newest) > 0) intake.newest = item;
  const ofArc = intake.newestOfArc.get(item.arc);
  if (ofArc === undefined || comparePositions(item, ofArc) > 0) intake.newestOfArc.set(item.arc, item);
}

/** Notes that an item has come. Returns whether it is the newest in order. */
export function noteItem(intake: Intake, item: OrderedItem): boolean {
  noteNewest(intake, item);
  const isNewest = item === intake.newest;
  intake.heard.set(item.arc, item.arrived);
  if (intake.lastSeen === null || item.arrived > intake.lastSeen) intake.lastSeen = item.arrived;
  if (item.time !== null && isNewest) intake.clockOffset = (item.arrived - item.time) / 1e6;
  return isNewest;
}

/** The most measurements of a carriage that are kept in memory: far more than can belong to runs that are folded again. */
export const mostTemperatures = 2_000;

/** Notes a measurement that was entered, or that was withdrawn. */
export function noteMeasurement(intake: Intake, own: Measurement): void {
  const known = intake.temperatures.some(({ id }) => id === own.id);
  intake.temperatures = known ? intake.temperatures.map((other) => (other.id === own.id ? own : other)) : [...intake.temperatures, own].slice(-mostTemperatures);
}

/** Moves the arrival times from which the carriage continues, after the wall clock was set by `step` µs. */
export function shiftIntake(intake: Intake, step: number): void {
  if (intake.messageAt !== null) intake.messageAt += step;
  for (const [arc, heard] of intake.heard) intake.heard.set(arc, heard + step);
  if (intake.lastSeen !== null) intake.lastSeen += step;
}
