import type { AlarmFacts } from '../../shared/weld/judging/alarm-life.js';
import { timelineContext } from '../../shared/weld/run/assignment-timeline.js';
import type { FoldContext } from '../../shared/weld/run/carriage-fold.js';
import type { OrderedItem } from '../../shared/weld/items/order.js';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import { arrange } from './replay.js';
import { rowLength } from '../../shared/weld/rows/row.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { noProcedure } from '../../shared/weld/procedure/zone.js';
import { plainState } from '../model/alarm-states.js';
import type { PlainAlarm } from '../model/alarm-types.js';
import { plainAlarms } from '../model/plain-alarms.js';
import { alarmProcedureId, type AlarmScenario } from '../model/random-alarms.js';
import { seededRandom } from '../model/seeded-random.js';
import { plainStream } from '../model/zoned-rows.js';
import { playAlarms, type AlarmLook, type AlarmPlay, type PlayOptions } from './alarm-replay.js';
import { canonicalOrder } from './carriage-events.js';
import { alongSeam, heatIsOpen, unevenWorst } from './compare-windows.js';

export interface AlarmComparison {
  readonly found: readonly string[];
  /** The model's alarms at the end, to check that the random runs contain what they should. */
  readonly alarms: readonly PlainAlarm[];
  readonly states: ReadonlySet<string>;
  readonly kills: number;
  /** How many of the model's runs were lit far from where the one before had ended. */
  readonly litElsewhere: number;
}

const near = (a: number, b: number, tolerance: number): boolean => Math.abs(a - b) <= tolerance * Math.max(1, Math.abs(a), Math.abs(b));
const sameTime = (a: number | null, b: number | null, tolerance: number): boolean => (a === null || b === null ? a === b : Math.abs(a - b) <= tolerance);
export const alarmName = ({ arc, quantity, limit }: Pick<AlarmFacts, 'arc' | 'quantity' | 'limit'>): string => `${arc === null ? 'run' : `arc ${arc}`} ${quantity} ${String(limit)}`;

/** The items of a scenario in order, and the fold's view of its assignments and its procedure. */
export function alarmItems({ events, procedure }: AlarmScenario): { items: OrderedItem[]; context: FoldContext } {
  const { items, timeline } = arrange(events);
  const context = timelineContext(timeline, defaultWeldSettings, (body) => (body?.procedure === alarmProcedureId ? procedureParameters(procedure, body) : noProcedure));
  return { items, context };
}

/** The differences between the program's alarms for a scenario and the model's, at sampled moments and at the end. */
export function compareAlarms(scenario: AlarmScenario, seed: number, options: PlayOptions): AlarmComparison {
  const { items, context } = alarmItems(scenario);
  const play = playAlarms(items, context, seededRandom(seed + 2_000_000), options);
  const canonical = canonicalOrder(scenario.events);
  const stream = plainStream(canonical.items, canonical.assignments, defaultWeldSettings);
  const found = [...play.problems];
  const states = new Set<string>();
  const last: PlainAlarm[] = [];
  if (stream.runs.length < play.rows.size) found.push(`${play.rows.size} runs, the model has ${stream.runs.length}`);
  stream.runs.forEach((run, ordinal) => {
    const rows = play.rows.get(ordinal) ?? [];
    if (rows.length === 0) return;
    const open = heatIsOpen(rows.filter(({ run: row }) => row.on > 0 || row.gap > 0));
    const compared = ({ quantity }: { readonly quantity: string }): boolean => !open || !alongSeam.includes(quantity);
    const model = plainAlarms(stream, run, scenario.procedure, rows);
    const start = (rows[0]?.run.index ?? 0) * rowLength;
    for (const look of play.looks) {
      const newest = look.newest.get(ordinal);
      if (newest === undefined) continue;
      const expected = model.at(newest).filter(compared);
      if (look === play.looks.at(-1)) last.push(...expected);
      const told = look.alarms.filter(({ facts }) => Number(facts.run) === ordinal && compared(facts));
      const lines = differences(expected, told, { look, play, uneven: model.uneven, start, states });
      found.push(...lines.map((line) => `run ${ordinal} at ${newest - start / rowLength} rows: ${line}`));
    }
  });
  return { found, alarms: last, states, kills: play.kills, litElsewhere: stream.runs.filter((run) => run.litElsewhere).length };
}

interface Circumstances {
  readonly look: AlarmLook;
  readonly play: AlarmPlay;
  readonly uneven: boolean;
  readonly start: number;
  readonly states: Set<string>;
}

function differences(expected: readonly PlainAlarm[], told: AlarmLook['alarms'], { look, play, uneven, start, states }: Circumstances): string[] {
  const seconds = (time: number | null): string => (time === null ? 'open' : ((time - start) / 1_000_000).toFixed(3));
  const show = (of: Pick<AlarmFacts, 'arc' | 'quantity' | 'limit' | 'worst' | 'raisedAt' | 'returnedAt' | 'suppressed'>, since: number, withdrawn: boolean): string =>
    `${alarmName(of)} ${seconds(since)} raised ${seconds(of.raisedAt)} returned ${seconds(of.returnedAt)}${withdrawn ? ' withdrawn' : ''}${of.suppressed ? ' suppressed' : ''} worst ${String(of.worst)}`;
  const showFacts = (facts: AlarmFacts): string => show(facts, facts.since, facts.withdrawn !== null);
  const tolerance = uneven ? rowLength : 1;
  const found: string[] = [];
  const left = [...told];
  for (const own of expected) {
    const at = left.findIndex(({ facts }) => alarmName(facts) === alarmName(own) && sameTime(facts.since, own.since.time, tolerance));
    const match = left[at];
    if (match === undefined) {
      found.push(`only in the model: ${show(own, own.since.time, own.withdrawn)}`);
      continue;
    }
    left.splice(at, 1);
    const { facts, state } = match;
    // A withdrawn alarm has no excursion, so the rules give it neither an end nor a worst value; if it was withdrawn in the crater, its worst value
    // is the one that was seen.
    const unjudged = own.withdrawn && alongSeam.includes(own.quantity);
    // The worst value may be that of the row which only one of the two counts as weld, and is then the worse of both.
    const rowMore = uneven && !sameTime(facts.since, own.since.time, 1) && (facts.since < own.since.time) === (Math.abs((facts.worst ?? Number.NaN) - own.limit) > Math.abs(own.worst - own.limit));
    const same =
      sameTime(facts.raisedAt, own.raisedAt, tolerance) &&
      (own.withdrawn || sameTime(facts.returnedAt, own.returnedAt, tolerance)) &&
      (facts.withdrawn !== null) === own.withdrawn &&
      (unjudged || rowMore || near(facts.worst ?? Number.NaN, own.worst, uneven ? unevenWorst(own) : 1e-9)) &&
      Math.abs((facts.travelled ?? Number.NaN) - own.since.travelled) <= (uneven ? 2 : 1e-6);
    if (!same) found.push(`the program has ${showFacts(facts)} from ${String(facts.travelled)} mm, the model ${show(own, own.since.time, own.withdrawn)} from ${own.since.travelled} mm`);
    const should = plainState(own, play.actions.get(facts.id) ?? [], look.now);
    states.add(should);
    if (state !== should) found.push(`${state} instead of ${should}: ${showFacts(facts)}; the model has ${show(own, own.since.time, own.withdrawn)}`);
  }
  for (const { facts } of left) found.push(`only in the program: ${showFacts(facts)}`);
  return found;
}
