import type { TrackedExcursion } from './excursion-track.js';
import { firstIndex } from '../items/first-index.js';
import type { RunJudge } from './judge-tracks.js';

const causes = new Set(['current', 'voltage', 'travelSpeed']);

/** Where the causes lie along the way, in order of where they begin: mm, counted in the direction of travel. */
interface CausePlaces {
  readonly begins: readonly number[];
  /** The furthest end of any that begins no later. */
  readonly furthest: readonly number[];
}

/**
 * Whether an excursion of heat input is explained. It follows from current, voltage and speed: what is judged at a place reaches half the
 * moving length around it, and so far an excursion of these explains it. `found` are all of the run, `offsets` mm by which arcs run behind.
 */
export function heatSuppression(judge: RunJudge | null, offsets: Readonly<Record<number, number>>, found: readonly TrackedExcursion[]): (excursion: TrackedExcursion) => boolean {
  if (judge === null) return () => false;
  const reach = judge.windows.heatInputLength / 2;
  // A run may have thousands of both: they are brought into order once for each direction.
  const places: { forwards?: CausePlaces; backwards?: CausePlaces } = {};
  return (heat) => {
    if (heat.quantity !== 'heatInput') return false;
    const track = judge.tracks.find((own) => own.open === heat);
    const reached = (heat.insideFrom ?? heat.to ?? track?.insideSince ?? track?.last ?? heat.from).travelled;
    // The carriage may have turned since.
    const direction = (Math.sign(reached - heat.from.travelled) || judge.heat.direction) < 0 ? -1 : 1;
    const place = reached * direction;
    const { begins, furthest } = (places[direction < 0 ? 'backwards' : 'forwards'] ??= causePlaces(found, offsets, direction));
    const count = firstIndex(begins.length, (at) => (begins[at] ?? Infinity) - place > reach);
    return count > 0 && place - (furthest[count - 1] ?? 0) <= reach;
  };
}

function causePlaces(found: readonly TrackedExcursion[], offsets: Readonly<Record<number, number>>, direction: 1 | -1): CausePlaces {
  const all: { readonly begin: number; readonly end: number }[] = [];
  for (const cause of found) {
    if (!causes.has(cause.quantity)) continue;
    const behind = cause.arc === null ? 0 : (offsets[cause.arc] ?? 0);
    all.push({ begin: (cause.from.travelled - behind) * direction, end: cause.to === null ? Infinity : (cause.to.travelled - behind) * direction });
  }
  all.sort((a, b) => a.begin - b.begin);
  let most = -Infinity;
  return { begins: all.map(({ begin }) => begin), furthest: all.map(({ end }) => (most = Math.max(most, end))) };
}
