import type { TrackedExcursion } from './excursion-track.js';
import { firstIndex } from '../items/first-index.js';
import type { SeamJudgedName } from '../quantities.js';
import type { RunJudge } from './judge-tracks.js';

/** Quantities that explain another one: those whose excursions lie within the reach of its judged values, and those judged at the same places. */
interface Causes {
  readonly within: ReadonlySet<string>;
  readonly atPlace: ReadonlySet<string>;
}

/** Heat input follows from current, voltage and speed; the cooling time follows from heat input. */
const ofHeat = new Set(['current', 'voltage', 'travelSpeed']);
const causes: Readonly<Record<SeamJudgedName, Causes>> = {
  heatInput: { within: ofHeat, atPlace: new Set() },
  t85: { within: ofHeat, atPlace: new Set(['heatInput']) },
};

/** The places of causes along the way, in order of where they begin: mm, counted in the direction of travel. */
interface CausePlaces {
  readonly begins: readonly number[];
  /** The furthest end of any cause that begins no later. */
  readonly furthest: readonly number[];
}

/**
 * Says whether an excursion along the seam is explained. The judged value at a place depends on current, voltage and speed for half the moving length
 * around it, so an excursion of one of these within that distance explains it. The cooling time is explained by heat input as well, where that stands
 * outside at the same place. `found` are all excursions of the run, `offsets` the mm by which arcs run behind.
 */
export function seamSuppression(judge: RunJudge | null, offsets: Readonly<Record<number, number>>, found: readonly TrackedExcursion[]): (excursion: TrackedExcursion) => boolean {
  if (judge === null) return () => false;
  const reach = judge.windows.heatInputLength / 2;
  // A run may have thousands of excursions and causes, so they are sorted once for each direction.
  const places = { forwards: new Map<ReadonlySet<string>, CausePlaces>(), backwards: new Map<ReadonlySet<string>, CausePlaces>() };
  const covers = (quantities: ReadonlySet<string>, direction: 1 | -1, place: number, within: number): boolean => {
    const known = places[direction < 0 ? 'backwards' : 'forwards'];
    let own = known.get(quantities);
    if (own === undefined) known.set(quantities, (own = causePlaces(found, quantities, offsets, direction)));
    const { begins, furthest } = own;
    const count = firstIndex(begins.length, (at) => (begins[at] ?? Infinity) - place > within);
    return count > 0 && place - (furthest[count - 1] ?? 0) <= within;
  };
  return (excursion) => {
    const quantity = judge.alongSeam.find((own) => own.quantity === excursion.quantity)?.quantity;
    if (quantity === undefined) return false;
    const track = judge.tracks.find((own) => own.open === excursion);
    const reached = (excursion.insideFrom ?? excursion.to ?? track?.insideSince ?? track?.last ?? excursion.from).travelled;
    // The carriage may have turned in the meantime.
    const direction = (Math.sign(reached - excursion.from.travelled) || judge.heat.direction) < 0 ? -1 : 1;
    const { within, atPlace } = causes[quantity];
    return covers(within, direction, reached * direction, reach) || covers(atPlace, direction, reached * direction, 0);
  };
}

function causePlaces(found: readonly TrackedExcursion[], quantities: ReadonlySet<string>, offsets: Readonly<Record<number, number>>, direction: 1 | -1): CausePlaces {
  const all: { readonly begin: number; readonly end: number }[] = [];
  for (const cause of found) {
    if (!quantities.has(cause.quantity)) continue;
    const behind = cause.arc === null ? 0 : (offsets[cause.arc] ?? 0);
    all.push({ begin: (cause.from.travelled - behind) * direction, end: cause.to === null ? Infinity : (cause.to.travelled - behind) * direction });
  }
  all.sort((a, b) => a.begin - b.begin);
  let most = -Infinity;
  return { begins: all.map(({ begin }) => begin), furthest: all.map(({ end }) => (most = Math.max(most, end))) };
}
