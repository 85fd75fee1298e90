import type { Assignment } from '../procedure/assignment.js';
import { sameAssignment } from '../decode/same-assignment.js';
import { isAfter, type Place } from '../items/place.js';
import type { PlacedItem } from '../items/device-clock.js';
import type { RunContext } from './merge-state.js';
import type { FoldContext } from './carriage-fold.js';
import type { WeldSettings } from '../weld-settings.js';
import { revisionAt, sensorsOf, type SensorTimeline } from './sensor-timeline.js';
import type { StartTemperature } from '../cooling/cooling-conditions.js';
import { runParameters, type ProcedureParameters } from '../procedure/zone.js';
import type { RunBeginning } from '../temperatures/plate-samples.js';
import { countingTemperature, runTemperatures, startTemperature } from '../temperatures/run-temperatures.js';
import { entryIndex, turnsMade } from './turn-epochs.js';
import { assignmentAt, correctedEpoch, isRepeat, nextTurn, turnLength, turnsBetween, type Repeats } from './turn-series.js';

/**
 * Where an assignment begins: at a device time, but never before `notBefore`; just after a place in the order; or, where it corrects a run of a series of turns, with
 * the turn that begins this run: the first after `turn` full turns under the entry `turnOf`.
 */
export type Anchor =
  | { readonly time: number; readonly notBefore: Place | null }
  | { readonly after: Place | null }
  | { readonly turnOf: number; readonly turn: number };

/** One assignment of a carriage, or (null) the end of the one before. */
export interface TimelineEntry {
  body: Assignment | null;
  readonly anchor: Anchor;
  corrected?: LaterFields | undefined;
}

/** Why an entry has the fields of a later one: the run that went on under that one, the later entry, and what the entry had said itself. */
export interface LaterFields {
  readonly run: string;
  readonly by: number;
  readonly sent: Assignment;
}

export type Timeline = TimelineEntry[];

/** The effect of an assignment that was received. */
export type AssignmentEffect = 'same' | 'corrected' | 'added';

/** The epoch that is in force as an assignment is received, and how far back in its series of turns one counts as known: see `repeats`. */
export interface InForce {
  readonly epoch: number;
  readonly repeats: Repeats;
}

/**
 * Enters a received assignment into the timeline (in place). `newest` is the place of the newest item received so far, `finishedTo` that of the last
 * item of a finished run; no assignment moves the items up to there. `now` says which one is in force; the last one if left out.
 */
export function receiveAssignment(
  timeline: Timeline,
  body: Assignment | null,
  time: number | null,
  newest: Place | null,
  finishedTo: Place | null,
  now: InForce = { epoch: timeline.length - 1, repeats: 'none' },
): AssignmentEffect {
  const before = assignmentAt(timeline, now.epoch);
  if (body === null && before === null) return 'same';
  if (body !== null && before !== null) {
    if (isRepeat(timeline, now.epoch, body, now.repeats)) return 'same';
    if (sameSeamAndRun(before, body)) return correct(timeline, now.epoch, before, body);
  }
  timeline.push({ body, anchor: time === null ? { after: newest } : { time, notBefore: finishedTo } });
  return 'added';
}

/** Gives the run in force other fields. Those of the runs before it in a series of turns stay as they were. */
function correct(timeline: Timeline, epoch: number, before: Assignment, body: Assignment): AssignmentEffect {
  const corrected = withEntries(body, before);
  if (sameAssignment(before, corrected)) return 'same';
  const index = entryIndex(epoch);
  const own = timeline[index];
  if (own !== undefined && turnsMade(epoch) === 0) {
    own.body = corrected;
    own.corrected = undefined;
  }
  else timeline.push({ body: corrected, anchor: { turnOf: index, turn: turnsMade(epoch) } });
  return 'corrected';
}

/** Keeps entries that were made at the carriage: a planner's assignment contains none of them, or only those known when it was read. */
export function withEntries(body: Assignment, before: Assignment): Assignment {
  const given = body.preparation;
  const { preparation: entered, materials = [] } = before;
  const stays = entered !== undefined && (given === undefined || (given.at !== undefined && entered.at !== undefined && given.at < entered.at));
  const kept = stays ? { ...body, preparation: entered } : body;
  // Changes of material are only ever added.
  return materials.length > (body.materials?.length ?? 0) ? { ...kept, materials } : kept;
}

/**
 * Where a run that began under the entry `first` goes on under the later entry `epoch` for the same seam and run, the fields sent last hold for all of it: they
 * are given to the entries from `first` to `epoch` (in place), which note the run's id. Returns the indexes of those that changed.
 */
export function correctFrom(timeline: Timeline, run: string, first: number, epoch: number): number[] {
  const started = assignmentAt(timeline, first);
  const newest = assignmentAt(timeline, epoch);
  if (started === null || newest === null || entryIndex(first) >= entryIndex(epoch)) return [];
  const body = withEntries(newest, started);
  const changed: number[] = [];
  for (let index = entryIndex(first); index <= epoch; index += 1) {
    const entry = timeline[index];
    // A run that a turn began has no entry of its own, and that of its series stays as it is.
    if (entry === undefined || entry.body === null || !sameSeamAndRun(entry.body, body) || sameAssignment(entry.body, body)) continue;
    entry.corrected = { run, by: entryIndex(epoch), sent: entry.corrected?.sent ?? entry.body };
    entry.body = body;
    changed.push(index);
  }
  return changed;
}

/**
 * Gives the entries back what they had said themselves where the run, which was thought to go on under a later entry, goes no further than `reached` (null: it is no
 * run at all). Returns their indexes and the later entries.
 */
export function withdrawCorrections(timeline: Timeline, run: string, reached: number | null): { readonly index: number; readonly by: number }[] {
  return timeline.flatMap((entry, index) => {
    if (entry.corrected?.run !== run || (reached !== null && entryIndex(reached) >= entry.corrected.by)) return [];
    const { by, sent } = entry.corrected;
    entry.body = sent;
    entry.corrected = undefined;
    return [{ index, by }];
  });
}

export function sameSeamAndRun(a: Assignment, b: Assignment): boolean {
  return a.seam === b.seam && a.run === b.run;
}

/** What an anchor is compared with: an item's place, and when its values begin, µs. */
type AnchoredItem = Pick<PlacedItem, 'start'> & { readonly item: Place };

/** The newest entry that has begun at an item, and none older than `current`. */
export function epochAt(timeline: Timeline, placed: AnchoredItem, current: number): number {
  for (let index = timeline.length - 1; index > current; index -= 1) {
    const entry = timeline[index];
    if (entry !== undefined && hasBegun(entry.anchor, placed)) return index;
  }
  return correctedEpoch(timeline, current);
}

function hasBegun(anchor: Anchor, placed: AnchoredItem): boolean {
  // A turn is not in the item: the fold finds it.
  if ('turnOf' in anchor) return false;
  if ('after' in anchor) return anchor.after === null || isAfter(placed.item, anchor.after);
  return placed.start >= anchor.time && (anchor.notBefore === null || isAfter(placed.item, anchor.notBefore));
}

/** The temperature from which the run with that ordinal starts, which begins under an epoch and by a declaration of sensors. */
export type TemperatureOf = (epoch: number, begin: RunBeginning & { readonly ordinal: number; readonly sensors: number }) => StartTemperature | null;

/**
 * The fold's view of a timeline. `procedure` gives the parameters of a named procedure, in the revision in force, for the assignment of an epoch; `temperature` the
 * start temperature of a run, without which only what the assignment itself says is known.
 */
export function timelineContext(
  timeline: Timeline,
  settings: WeldSettings,
  procedure: (assignment: Assignment | null, epoch: number) => ProcedureParameters,
  sensors: SensorTimeline = [],
  temperature?: TemperatureOf,
): FoldContext {
  const body = (epoch: number): Assignment | null => assignmentAt(timeline, epoch);
  const alone: TemperatureOf = (epoch, begin) => {
    const assignment = body(epoch);
    const platePlace = sensorsOf(sensors, begin.sensors)?.plateTemperaturePlace ?? null;
    return startTemperature(countingTemperature(runTemperatures({ begin, run: null, assignment, entered: [], platePlace, age: settings.temperatureAge })), assignment?.preheat);
  };
  const context: RunContext = {
    settings,
    assigned: (epoch) => (timeline[entryIndex(epoch)]?.body ?? null) !== null,
    sameRun: (before, epoch) => {
      const first = body(before);
      const second = body(epoch);
      if (first === null || second === null || !sameSeamAndRun(first, second)) return false;
      for (let index = entryIndex(before) + 1; index < entryIndex(epoch); index += 1) {
        const between = body(index);
        if (between !== null && !sameSeamAndRun(first, between)) return false;
      }
      return true;
    },
    parameters: (epoch, begin) => runParameters(body(epoch), procedure(body(epoch), epoch), { sensors: sensorsOf(sensors, begin.sensors), temperature: (temperature ?? alone)(epoch, begin) }),
    turnsBetween: (before, epoch) => turnsBetween(timeline, before, epoch),
  };
  return {
    ...context, epochOf: (placed, current) => epochAt(timeline, placed, current),
    turnLength: (epoch) => turnLength(timeline, epoch), nextTurn: (epoch) => nextTurn(timeline, epoch),
    sensorsAt: (place) => revisionAt(sensors, place), sensorsOf: (revision) => sensorsOf(sensors, revision),
  };
}
