import { valueAt, type ReceivedItem, type Values } from '../../shared/weld/items/item.js';
import type { ArcSensors, Sensors } from '../../shared/weld/procedure/sensors.js';
import type { CarriageEvent } from '../replay/replay.js';
import { seededRandom, type Random } from './seeded-random.js';

/** A stream, and what is declared of its carriage's sensors before anything comes; null where nothing is. */
export interface RandomSensors {
  readonly events: CarriageEvent[];
  readonly sensors: Sensors | null;
}

/** Sensors of one arc: picked up at the source through cables of a known resistance or not, or at the contact tube; with or without signs. */
function arcSensors(arc: number, alternating: boolean, random: Random): ArcSensors {
  const pickup = random.pick(['source', 'source', 'source', 'contactTube', null] as const);
  const signedCurrent = random.pick([null, null, true, false]);
  // Of an alternating arc both are rectified or neither is: with one of them alone it would seem to give power back.
  const signedVoltage = alternating ? signedCurrent : random.pick([null, null, true, false]);
  return {
    arc,
    ...(pickup === null ? {} : { voltagePickup: pickup }),
    // Not a round number, with which a corrected voltage would lie on the border of a cell of the density.
    ...(random.chance(0.85) ? { cableResistance: random.between(2, 12) } : {}),
    ...(signedCurrent === null ? {} : { signedCurrent }),
    ...(signedVoltage === null ? {} : { signedVoltage }),
  };
}

/**
 * Declares the sensors of a stream, of all arcs or of some, and sends amounts where they have no sign. Blocks at 5 ms are now and then thinned to 10 ms, which
 * is too slow for a density. Draws from a generator of its own.
 */
export function withSensors(events: readonly CarriageEvent[], seed: number): RandomSensors {
  const random = seededRandom(seed + 11_000_000);
  const thinned = random.chance(0.3) ? events.map((event) => (event.type === 'item' && event.item.interval === 5 ? { ...event, item: thin(event.item) } : event)) : [...events];
  if (random.chance(0.4)) return { events: thinned, sensors: null };
  const arcs = [1, 2, 3].filter(() => random.chance(0.8)).map((arc) => arcSensors(arc, alternates(thinned, arc), random));
  const sent = thinned.map((event): CarriageEvent => {
    const own = event.type === 'item' ? arcs.find(({ arc }) => arc === event.item.arc) : undefined;
    return event.type === 'assignment' || own === undefined ? event : { ...event, item: asMeasured(event.item, own) };
  });
  return { events: sent, sensors: { arcs } };
}

/** Whether the current of an arc is sent with both signs. */
function alternates(events: readonly CarriageEvent[], arc: number): boolean {
  const signs = new Set(events.flatMap((event) => (event.type === 'item' && event.item.arc === arc ? [event.item.current].flat().map(Math.sign) : [])));
  return signs.has(1) && signs.has(-1);
}

function asMeasured(item: ReceivedItem, { signedCurrent = true, signedVoltage = true }: ArcSensors): ReceivedItem {
  const amounts = (values: Values): Values => (typeof values === 'number' ? Math.abs(values) : Array.from({ length: item.count }, (_, k) => Math.abs(valueAt(values, k))));
  return { ...item, current: signedCurrent ? item.current : amounts(item.current), voltage: signedVoltage ? item.voltage : amounts(item.voltage) };
}

/** Every second sample of a block. */
function thin(item: ReceivedItem): ReceivedItem {
  const count = item.count / 2;
  const every = (values: Values): Values => (typeof values === 'number' ? values : Array.from({ length: count }, (_, k) => valueAt(values, 2 * k)));
  return { ...item, interval: 10, count, current: every(item.current), voltage: every(item.voltage) };
}
