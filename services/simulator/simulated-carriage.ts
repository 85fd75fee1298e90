import { createArc, type ArcTruth } from './arc.js';
import { createMotion } from './carriage-motion.js';
import type { CarriagePlan } from './carriage-plan.js';
import { plateTemperatureAfter } from './plate.js';
import { randomFrom } from './random.js';
import { scriptRun, type RunScript, type Stretch } from './run-script.js';
import { runsPerSeam } from './seam-plan.js';
import { assignmentPayload, readingsPayload } from './simulated-payloads.js';

/** How carriages send: `rate` readings a second, or, where `block` is given, blocks of so many ms at 1 kHz. */
export interface Sending {
  readonly rate: number;
  readonly block: number | null;
  readonly seed: number;
  /** True time of the first instant, ms since 1970. */
  readonly start: number;
}

export interface SimulatedMessage {
  /** ms of true time since the start at which the carriage sends it. */
  readonly at: number;
  readonly topic: string;
  readonly payload: string;
  readonly retain: boolean;
  /** Running number within the boot; null if the message carries no items. */
  readonly seq: number | null;
}

/** What truly happens in one step, whether it is sent or not. */
export interface TrueMoment {
  /** Number of the run, from 0. */
  readonly cycle: number;
  /** ms of true time since the start, and s that the step lasts. */
  readonly at: number;
  readonly seconds: number;
  /** mm travelled in the run at the step's beginning, and in the step. */
  readonly travel: number;
  readonly advance: number;
  /** The arcs that burn. */
  readonly arcs: readonly ArcTruth[];
}

/** The name of the power-up that a simulated carriage plays. */
export function bootOf({ index }: CarriagePlan, sending: Sending): string {
  return `sim-${String(sending.seed)}-${String(index)}-${sending.start.toString(36)}`;
}

/**
 * Everything that a carriage ever sends, run after run, without end. Depends on its arguments alone. `watch` is told what truly happens, before the message
 * of that step.
 */
export function* carriageMessages(plan: CarriagePlan, sending: Sending, watch?: (moment: TrueMoment) => void): Generator<SimulatedMessage, never> {
  const { index } = plan;
  const random = randomFrom(sending.seed, 'noise', index);
  const state = {
    arcs: plan.arcs.map((own) => ({ arc: own.arc, simulated: createArc(own, randomFrom(sending.seed, 'arc', index, own.arc)) })),
    motion: createMotion(randomFrom(sending.seed, 'motion', index)),
    plate: plan.ambient,
    seq: 0,
    step: 0,
  };
  const period = sending.block ?? 1000 / sending.rate;
  const seconds = period / 1000;
  const samples = sending.block ?? 1;
  const firstAt = random.whole(0, 3999);
  // Whole microseconds, counted from the start each time, as rounding must not add up.
  const atStep = (step: number): number => firstAt + Math.round(step * period * 1000) / 1000;
  const deviceTime = (at: number): number => Math.round((sending.start + at + plan.clockOffset) * 1000) / 1000;
  const topic = (kind: string): string => `weld/${plan.site}/${plan.carriage}/${kind}`;

  yield { at: 0, topic: topic('status'), payload: 'online', retain: true, seq: null };
  for (let cycle = 0; ; cycle += 1) {
    const script = scriptRun(plan, cycle);
    if (cycle % runsPerSeam === 0) state.plate = plan.ambient;
    state.motion.zero();
    const begin = atStep(state.step);
    const assignment = assignmentPayload(plan, script.seam, deviceTime(begin));
    yield { at: begin, topic: topic('assignment'), payload: assignment, retain: true, seq: null };
    yield* runMessages(script, cycle);
  }

  function* runMessages(script: RunScript, cycle: number): Generator<SimulatedMessage, void> {
    const plate = { length: script.seam.travel, thickness: script.seam.thickness, ambient: plan.ambient };
    let outAt: number | null = null;
    let travel = 0;
    for (const stretch of script.stretches) {
      const from = { step: state.step, travel };
      if (!stretch.on.includes(true)) outAt ??= travel;
      else outAt = null;
      while (!isOver(stretch, (state.step - from.step) * seconds, travel, outAt)) {
        const at = atStep(state.step);
        const deviation = { rise: along(stretch, stretch.rise, from.travel, travel), extension: along(stretch, stretch.extension, from.travel, travel) };
        const arcs = state.arcs.map(({ arc, simulated }, place) => ({ arc, samples: simulated.next(stretch.on[place] ?? false, deviation, seconds, samples) }));
        const position = state.motion.next(stretch, seconds, outAt);
        const advance = (position.speed * seconds) / 60;
        watch?.({ cycle, at, seconds, travel: position.travel, advance, arcs: arcs.flatMap(({ samples: { truth } }) => truth ?? []) });
        if (stretch.sent) {
          const payload = readingsPayload({
            boot: bootOf(plan, sending), seq: state.seq, time: deviceTime(at), interval: sending.block === null ? null : 1,
            travelSpeed: position.speed, travel: position.travel, advance, plateTemperature: Math.round((state.plate + 0.2 * random.normal()) * 10) / 10, arcs,
          });
          // A block is complete, and sent, when its last sample has been taken.
          const sentAt = sending.block === null ? at : at + period;
          yield { at: sentAt, topic: topic('readings'), payload, retain: false, seq: state.seq };
          state.seq += 1;
        }
        const power = arcs.reduce((sum, arc) => sum + arc.samples.power, 0);
        state.plate = plateTemperatureAfter(plate, state.plate, power, seconds);
        travel = position.travel + advance;
        state.step += 1;
      }
    }
  }
}

function isOver(stretch: Stretch, lasted: number, travel: number, outAt: number | null): boolean {
  if ('seconds' in stretch.until) return lasted >= stretch.until.seconds - 1e-6;
  if ('travel' in stretch.until) return travel >= stretch.until.travel;
  // The odometer shows thousandths of a millimetre.
  return outAt === null || travel <= outAt - stretch.until.behindOut + 0.001;
}

/** A deviation at `travel`: linear over the stretch, which ends where it changes. */
function along(stretch: Stretch, [first, last]: readonly [number, number], from: number, travel: number): number {
  if (first === last || !('travel' in stretch.until)) return first;
  return first + ((last - first) * (travel - from)) / (stretch.until.travel - from);
}
