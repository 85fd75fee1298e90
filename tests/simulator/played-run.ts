import { decodeReadings } from '../../shared/weld/decode/decode-readings.js';
import { valueAt } from '../../shared/weld/items/item.js';
import type { Item } from '../../shared/weld/items/item.js';
import { carriageMessages } from '../../services/simulator/simulated-carriage.js';
import type { Sending, SimulatedMessage, TrueMoment } from '../../services/simulator/simulated-carriage.js';
import { planCarriage, type CarriagePlan } from '../../services/simulator/carriage-plan.js';
import { scriptRun } from '../../services/simulator/run-script.js';
import type { RunScript } from '../../services/simulator/run-script.js';

export const start = Date.UTC(2026, 10, 25, 6);
export const readings: Sending = { rate: 10, block: null, seed: 1, start };
export const blocks: Sending = { ...readings, block: 100 };

/** One run as it was sent: its assignment, and its items in order, decoded as the service would. */
export interface PlayedRun {
  readonly script: RunScript;
  readonly assignment: SimulatedMessage;
  readonly messages: readonly SimulatedMessage[];
  readonly items: readonly Item[];
  /** What truly happened, step by step. */
  readonly truth: readonly TrueMoment[];
}

/** Run number `cycle` (from 0) of carriage `index`. */
export function playRun(index: number, cycle: number, sending: Sending): PlayedRun {
  return playPlan(planCarriage(index, sending.seed), cycle, sending);
}

/** Run number `cycle` (from 0) of a carriage. */
export function playPlan(plan: CarriagePlan, cycle: number, sending: Sending): PlayedRun {
  const script = scriptRun(plan, cycle);
  const truth: TrueMoment[] = [];
  const messages: SimulatedMessage[] = [];
  let assignment: SimulatedMessage | null = null;
  let begun = -1;
  for (const message of carriageMessages(plan, sending, (moment) => truth.push(moment))) {
    if (message.topic.endsWith('/assignment')) {
      begun += 1;
      if (begun === cycle) assignment = message;
      if (begun > cycle) break;
    } else if (begun === cycle) {
      messages.push(message);
    }
  }
  if (assignment === null) throw new Error('the carriage sent no assignment');
  return { script, assignment, messages, items: messages.flatMap(decoded), truth: truth.filter((moment) => moment.cycle === cycle) };
}

/** The items of a message; a refused one is an error. */
export function decoded(message: SimulatedMessage): readonly Item[] {
  return decodeReadings(Buffer.from(message.payload)).items.map((entry) => {
    if (entry.kind === 'refused') throw new Error(entry.reason);
    return entry.item;
  });
}

/** The first run of carriage `index` with this kind of event. */
export function playEvent(kind: RunScript['event']['kind'], index: number, sending: Sending): PlayedRun {
  const plan = planCarriage(index, sending.seed);
  const cycle = [0, 1, 2, 3, 4].find((candidate) => scriptRun(plan, candidate).event.kind === kind);
  if (cycle === undefined) throw new Error(`no ${kind} among five runs`);
  return playRun(index, cycle, sending);
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** The value of a reading that must be there. */
export function reading(item: Item, name: 'current' | 'voltage' | 'travelSpeed' | 'travel' | 'wireFeedSpeed' | 'plateTemperature'): number {
  const values = item[name];
  if (values === null) throw new Error(`no ${name}`);
  return valueAt(values, 0);
}
