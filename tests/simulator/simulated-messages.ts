import { simulatedCarriages, type Simulation } from '../../services/simulator/play-simulation.js';
import { carriageMessages } from '../../services/simulator/simulated-carriage.js';
import type { SimulatedMessage } from '../../services/simulator/simulated-carriage.js';

/**
 * The messages of all carriages in the order of their sending, without end. The same simulation gives the same messages
 * to the byte; no clock is read. Their content is invented, and every assignment says so (`"simulated": true`).
 */
export function* simulatedMessages(simulation: Simulation): Generator<SimulatedMessage, never> {
  const sources = simulatedCarriages(simulation).map(({ plan, sending }) => carriageMessages(plan, sending));
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
