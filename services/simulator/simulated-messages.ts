import { carriageMessages } from './simulated-carriage.js';
import type { Sending, SimulatedMessage } from './simulated-carriage.js';

export interface Simulation extends Sending {
  /** How many carriages, `c1` to `cN`. */
  readonly carriages: number;
}

/**
 * The messages of all carriages in the order of their sending, without end. The same simulation gives the same messages
 * to the byte; no clock is read. What they tell is invented, and every assignment says so (`"simulated": true`).
 */
export function* simulatedMessages(simulation: Simulation): Generator<SimulatedMessage, never> {
  const sources = Array.from({ length: simulation.carriages }, (_, place) => carriageMessages(place + 1, simulation));
  const waiting = sources.map((source) => source.next().value);
  for (;;) {
    let earliest = 0;
    let message = waiting[0];
    waiting.forEach((candidate, place) => {
      if (message !== undefined && candidate.at < message.at) {
        earliest = place;
        message = candidate;
      }
    });
    const source = sources[earliest];
    if (message === undefined || source === undefined) throw new RangeError('a simulation needs at least one carriage');
    yield message;
    waiting[earliest] = source.next().value;
  }
}
