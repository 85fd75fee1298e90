import { outAtEnd } from '../../../shared/weld/rows/ended-rows.js';
import { randomBytes } from 'node:crypto';
import { temperatureRow } from '../../../shared/records/temperatures.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { Measurement } from '../../../shared/weld/temperatures/measurement.js';
import type { EnteredTemperature, Signed } from '../../ingest-port.js';
import { raiseRunAlarms } from '../alarms/raise-run-alarms.js';
import type { Carriage } from '../fold/carriage.js';
import { foldFromStart } from '../fold/checkpoints.js';
import { isLocked, type FoldDeps } from '../fold/fold-deps.js';
import { isFolded } from '../fold/fold-state.js';
import { assignmentInForce } from '../fold/in-force.js';
import { assignmentOf, noteMeasurement } from '../fold/intake.js';
import { noteNewsAtOnce } from '../fold/outbox.js';
import type { RunEntry } from '../fold/run-book.js';
import { startOf } from '../fold/run-temperature.js';
import { presentUnder } from '../fold/sums-under.js';
import { saveRecord, writeRunRecords } from '../records/write-run-records.js';
import type { GivenAssignment } from './assign-stream.js';
import type { StreamMemory } from './stream-memory.js';

/** The run that a measurement is for. */
export interface MeasuredRunState {
  readonly entry: RunEntry;
  /** A finished run with its rows summed anew, from the temperature that counts now; null for one that is being welded. */
  readonly anew: { readonly assignment: Assignment | null; readonly given: Pick<GivenAssignment, 'under' | 'tail' | 'marks'>; readonly entered: readonly Measurement[] } | null;
}

/** A measurement before it is stored, at the carriage to which it belongs, and the run that it is for: null if that is still to come. */
export interface GatheredTemperature {
  readonly carriage: Carriage;
  readonly measured: Measurement;
  readonly of: MeasuredRunState | null;
}

/** A measurement as it is entered now at a carriage, or at one of its runs. */
export function newMeasurement(carriage: Carriage, run: string | null, entered: EnteredTemperature, { now }: Pick<FoldDeps, 'now'>): Measurement {
  const { kind, value, at, seam, place, seamPosition, distance, instrument, by, reason } = entered;
  const inForce = run === null ? (assignmentInForce(carriage)?.seam ?? null) : null;
  return {
    id: randomBytes(9).toString('base64url'), run, kind, value, at: at ?? carriageTime(carriage.intake, now()), seam: seam === undefined ? inForce : seam,
    place, seamPosition, distance, instrument, by, reason, entered: now(), withdrawn: null,
  };
}

/** The time by the clock of a carriage, in whole milliseconds, as times in the interface are; it is not known to differ from that of the service before something came. */
export function carriageTime({ clockOffset }: Pick<Carriage['intake'], 'clockOffset'>, now: number): number {
  return Math.floor((now - (clockOffset ?? 0) * 1e6) / 1e3) * 1e3;
}

export function withdrawnMeasurement(own: Measurement, { by, reason }: Signed, { now }: Pick<FoldDeps, 'now'>): Measurement {
  return { ...own, withdrawn: { at: now(), by, reason } };
}

/** Stores a measurement that was entered or withdrawn, and brings up to date what depends on it. */
export function keepMeasurement({ carriage, measured, of }: GatheredTemperature, streams: StreamMemory): void {
  const { intake, outbox } = carriage;
  const { fold } = streams;
  // A retired carriage comes back for what is entered at it, not for what is entered at one of its runs.
  if (measured.run === null) streams.hear(carriage);
  const before = startsFrom(carriage, of, fold);
  noteMeasurement(intake, measured);
  fold.changes.temperatures.push(temperatureRow(carriage.id, measured));
  noteNewsAtOnce(outbox);
  if (of === null || carriage.fold.fault !== null) return;
  const isOther = startsFrom(carriage, of, fold) !== before;
  if (of.anew === null) tellOpenRun(carriage, of, fold);
  else evaluateAnew(carriage, of.entry, of.anew, fold);
  // The fold has begun the run from another temperature, and may have to go on with it.
  if (isOther && carriage.kind === 'live' && !isLocked(of.entry, fold)) foldFromStart(carriage, fold);
}

/** The alarms of the run that is being welded follow at once, and its record with them. */
function tellOpenRun(carriage: Carriage, { entry }: MeasuredRunState, deps: FoldDeps): void {
  if (!isFolded(carriage.fold)) return;
  carriage.alarms.followed.delete(entry.id);
  raiseRunAlarms(carriage, true, deps);
  writeRunRecords(carriage, deps);
}

/** Evaluates a finished run anew from its rows. */
function evaluateAnew(carriage: Carriage, entry: RunEntry, { assignment, given, entered }: NonNullable<MeasuredRunState['anew']>, deps: FoldDeps): void {
  const { under, tail, marks } = given;
  entry.version += 1;
  entry.revisedAt = deps.now();
  if (entry.override !== null) entry.under = under;
  const sums = presentUnder(under, tail, Infinity, outAtEnd(marks, marks.lastOn));
  saveRecord(carriage, entry, { assignment, finished: true, sums, marks, travelJump: marks.travelJump, entered }, deps);
}

/** From which temperature the fold began a run, as text to be compared. */
function startsFrom(carriage: Carriage, of: MeasuredRunState | null, deps: FoldDeps): string | null {
  if (of === null) return null;
  const { live } = carriage.fold;
  const { entry, anew } = of;
  const begin = anew?.given.marks ?? [live.head.merge.run, live.head.merge.resumable].find((run) => run?.ordinal === entry.ordinal);
  if (begin == null) return null;
  return JSON.stringify(startOf(carriage, { id: entry.id, begin, assignment: assignmentOf(carriage.intake, entry.epoch) }, deps));
}
