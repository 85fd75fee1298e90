import type { Assignment } from '../procedure/assignment.js';
import { sameAssignment } from '../decode/same-assignment.js';
import type { PlacedItem } from '../items/device-clock.js';
import type { RunContext } from './merge-rows.js';
import type { FoldContext } from './carriage-fold.js';
import type { WeldSettings } from '../weld-settings.js';
import { runParameters, type ProcedureParameters, type StartTemperature } from '../procedure/zone.js';
import type { RunBeginning } from '../temperatures/plate-samples.js';
import { countingTemperature, runTemperatures, startTemperature } from '../temperatures/run-temperatures.js';

export interface Place {
  readonly rank: number;
  readonly key: number;
}

/** Where an assignment begins: at a device time, but never before `notBefore`, or just after a place in the order. */
export type Anchor =
  | { readonly time: number; readonly notBefore: Place | null }
  | { readonly after: Place | null };

/** One assignment of a carriage, or (null) the end of the one before. */
export interface TimelineEntry {
  body: Assignment | null;
  readonly anchor: Anchor;
}

export type Timeline = TimelineEntry[];

/** The effect of an assignment that was received. */
export type AssignmentEffect = 'same' | 'corrected' | 'added';

/**
 * Enters a received assignment into the timeline (in place). `newest` is the place of the newest item received so far, `finishedTo` that of the last
 * item of a finished run; no assignment moves the items up to there.
 */
export function receiveAssignment(
  timeline: Timeline,
  body: Assignment | null,
  time: number | null,
  newest: Place | null,
  finishedTo: Place | null,
): AssignmentEffect {
  const last = timeline.at(-1);
  const before = last?.body ?? null;
  if (body === null && before === null) return 'same';
  if (last !== undefined && body !== null && before !== null && sameSeamAndRun(before, body)) {
    const corrected = withEntries(body, before);
    if (sameAssignment(before, corrected)) return 'same';
    last.body = corrected;
    return 'corrected';
  }
  timeline.push({ body, anchor: time === null ? { after: newest } : { time, notBefore: finishedTo } });
  return 'added';
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
 * are given to the entries from `first` to `epoch` (in place). Returns the indexes of those that changed.
 */
export function correctFrom(timeline: Timeline, first: number, epoch: number): number[] {
  const started = timeline[first]?.body ?? null;
  const newest = timeline[epoch]?.body ?? null;
  if (started === null || newest === null || first >= epoch) return [];
  const body = withEntries(newest, started);
  const changed: number[] = [];
  for (let index = first; index <= epoch; index += 1) {
    const entry = timeline[index];
    if (entry === undefined || entry.body === null || sameAssignment(entry.body, body)) continue;
    entry.body = body;
    changed.push(index);
  }
  return changed;
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
  return current;
}

function hasBegun(anchor: Anchor, placed: AnchoredItem): boolean {
  if ('after' in anchor) return anchor.after === null || isAfter(placed.item, anchor.after);
  return placed.start >= anchor.time && (anchor.notBefore === null || isAfter(placed.item, anchor.notBefore));
}

export function isAfter(place: Place, before: Place): boolean {
  return place.rank > before.rank || (place.rank === before.rank && place.key > before.key);
}

/** The temperature from which the run with that ordinal starts, which begins under an entry of the timeline. */
export type TemperatureOf = (epoch: number, begin: RunBeginning & { readonly ordinal: number }) => StartTemperature | null;

/**
 * The fold's view of a timeline. `procedure` gives the parameters of a named procedure, in the revision in force; `temperature` the start temperature of a run,
 * without which only what the assignment itself says is known.
 */
export function timelineContext(
  timeline: Timeline,
  settings: WeldSettings,
  procedure: (assignment: Assignment | null) => ProcedureParameters,
  temperature?: TemperatureOf,
): FoldContext {
  const body = (epoch: number): Assignment | null => timeline[epoch]?.body ?? null;
  const alone: TemperatureOf = (epoch, begin) => {
    const assignment = body(epoch);
    const own = runTemperatures({ begin, run: null, assignment, entered: [], platePlace: null, age: settings.temperatureAge });
    return startTemperature(countingTemperature(own), assignment?.preheat);
  };
  const context: RunContext = {
    settings,
    assigned: (epoch) => body(epoch) !== null,
    sameRun: (before, epoch) => {
      const first = body(before);
      const second = body(epoch);
      if (first === null || second === null || !sameSeamAndRun(first, second)) return false;
      for (let index = before + 1; index < epoch; index += 1) {
        const between = body(index);
        if (between !== null && !sameSeamAndRun(first, between)) return false;
      }
      return true;
    },
    parameters: (epoch, begin) => runParameters(body(epoch), procedure(body(epoch)), (temperature ?? alone)(epoch, begin)),
  };
  return { ...context, epochOf: (placed, current) => epochAt(timeline, placed, current) };
}
