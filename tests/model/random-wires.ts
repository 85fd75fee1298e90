import { noProcedure, type ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import type { CarriageEvent } from '../replay/replay.js';
import { plainProcedure } from './plain-run.js';
import type { PlainProcedure } from './plain-types.js';
import { seededRandom } from './seeded-random.js';

const id = 'P-wires';

/** A stream whose assignments and procedure say something of the wires, in the forms that the program and the model take. */
export interface RandomWires {
  readonly events: CarriageEvent[];
  readonly program: ReadonlyMap<string, ProcedureParameters>;
  readonly model: ReadonlyMap<string, PlainProcedure>;
}

/**
 * Adds wires to a stream: diameters by the procedure, by the assignment or by nobody, several wires, lost metal, declared extensions, and a feed that is
 * sent as it was, always, or by some arcs alone; and arcs that the procedure says alternate. It draws from a generator of its own, so that all other values of a seed stay as they were.
 */
export function withWires(events: readonly CarriageEvent[], seed: number): RandomWires {
  const random = seededRandom(seed + 8_000_000);
  const numbers = [1, 2, 3];
  const diameter = (): number => random.pick([1.6, 2.4, 3.2, 4, 4.8]);
  const wires = numbers.filter(() => random.chance(0.85)).map((arc) => ({
    arc,
    own: {
      diameter: random.chance(0.8) ? diameter() : null, count: random.pick([1, 1, 1, 2, 3]), recovery: random.pick([1, 1, 0.98]),
      extension: random.chance(0.5) ? { min: random.whole(10, 25), ...(random.chance(0.7) ? { max: random.whole(26, 45) } : {}) } : null,
    },
  }));
  const fluxRatio = random.pick([1, 1, 1.2]);
  const arcs = numbers.filter(() => random.chance(0.7)).map((arc) => ({
    arc, ...(random.chance(0.3) ? { wireDiameter: diameter() } : {}), ...(random.chance(0.85) ? { electrodeExtension: random.pick([19.2, 24, 32, 40]) } : {}),
  }));
  const feeds = new Map(numbers.map((arc) => [arc, random.pick(['asItWas', 'always', 'always', 'mostly'] as const)]));
  const told = events.map((event, at): CarriageEvent => {
    if (event.type === 'assignment') return event.assignment === null ? event : { ...event, assignment: { ...event.assignment, procedure: id, arcs } };
    const kind = feeds.get(event.item.arc) ?? 'asItWas';
    if (kind === 'asItWas') return event;
    return { ...event, item: { ...event.item, wireFeedSpeed: kind === 'mostly' && random.chance(0.001) ? null : 1.1 + (0.4 * at) / events.length } };
  });
  // Whatever is sent, which is no wave where it is rectified.
  const alternating = numbers.filter(() => random.chance(0.12));
  const program: ProcedureParameters = {
    ...noProcedure, fluxRatio, alternating,
    wires: Object.fromEntries(wires.map(({ arc, own: { extension, ...own } }) => [arc, { ...own, extensionWindow: extension }])),
  };
  const model: PlainProcedure = { ...plainProcedure, fluxRatio, alternating: new Set(alternating), wires: new Map(wires.map(({ arc, own }) => [arc, own])) };
  return { events: told, program: new Map([[id, program]]), model: new Map([[id, model]]) };
}
