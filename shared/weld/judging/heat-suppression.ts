import type { TrackedExcursion } from './excursion-track.js';
import { firstIndex } from '../items/first-index.js';
import type { RunJudge } from './judge-tracks.js';

const causes = new Set(['current', 'voltage', 'travelSpeed']);

/** The places of the causes along the way, in order of where they begin: mm, counted in the direction of travel. */
interface CausePlaces {
  readonly begins: readonly number[];
  /** The furthest end of any cause that begins no later. */
  readonly furthest: readonly number[];
}

/**
 * Says whether an excursion of heat input is explained. Heat input follows from current, voltage and speed: the judged value at a place reaches half
 * the moving length around it, so an excursion of one of these within that distance explains it. `found` are all excursions of the run, `offsets` the
 * mm by which arcs run behind.
 */
export function heatSuppression(judge: RunJudge | null, offsets: Readonly<Record<number, number>>, found: readonly TrackedExcursion[]): (excursion: TrackedExcursion) => boolean {
  if (judge === null) return () => false;
  const reach = judge.windows.heatInputLength / 2;
  // A run may have thousands of excursions and causes, so they are sorted once for each direction.
  const places: { forwards?: CausePlaces; backwards?: CausePlaces } = {};
  return (heat) => {
    if (heat.quantity !== 'heatInput') return false;
    const track = judge.tracks.find((own) => own.open === heat);
    const reached = (heat.insideFrom ?? heat.to ?? track?.insideSince ?? track?.last ?? heat.from).travelled;
    // The carriage may have turned in the meantime.
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
