import type { CarriageEvent } from '../replay/replay.js';
import { seededRandom } from './seeded-random.js';

interface Plate {
  readonly thickness?: number;
  readonly preheat?: number;
}

/** Gives each seam and run of a stream a plate: thin or thick, cold or warm; now and then one of both is not known, or it is too hot. */
export function withPlates(events: readonly CarriageEvent[], seed: number): CarriageEvent[] {
  // A generator of its own: the streams stay as they were without plates.
  const random = seededRandom(seed + 3_000_000);
  const plates = new Map<string, Plate>();
  const draw = (): Plate => ({
    ...(random.chance(0.85) ? { thickness: random.pick([8, 12, 16, 20, 24, 40]) } : {}),
    ...(random.chance(0.85) ? { preheat: random.pick([-10, 20, 100, 100, 150, 238, 499, 500]) } : {}),
  });
  return events.map((event) => {
    if (event.type !== 'assignment' || event.assignment === null) return event;
    const name = `${event.assignment.seam} ${event.assignment.run}`;
    const plate = plates.get(name) ?? draw();
    plates.set(name, plate);
    return { ...event, assignment: { ...event.assignment, ...plate } };
  });
}
