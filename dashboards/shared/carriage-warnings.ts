import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Drift, Outlook } from '../../shared/api-types/outlook.js';
import { quantityWord } from './alarm-sentence.js';
import { sharedWords } from './shared-words.js';
import { formatAge } from './times.js';
import { shown } from './units.js';
import { verdictWords } from './verdict-words.js';
import { capital } from './words.js';

type Warned = Pick<Carriage, 'welding' | 'drift' | 'outlook' | 'arcs'>;

/** Whether something is on its way to trouble. */
export function isWarned(carriage: Warned): boolean {
  return carriage.welding && (carriage.drift.length > 0 || shortWires(carriage.outlook).length > 0);
}

/** Warnings of what will soon go wrong, each in a sentence; the drift that leaves its limits soonest is first. */
export function carriageWarnings(carriage: Warned): readonly string[] {
  if (!carriage.welding) return [];
  const say = verdictWords();
  const many = carriage.arcs.length > 1;
  const wires = shortWires(carriage.outlook).map(({ arc, endsShortBy }) => say.wireShort(many ? arc : null, shown('length', endsShortBy)));
  return [...carriage.drift.map((drift) => driftSentence(drift, many)), ...wires];
}

function driftSentence({ arc, quantity, leavesIn, leavesAfter }: Drift, many: boolean): string {
  const say = verdictWords();
  const what = arc === null || !many ? quantityWord(quantity) : say.ofArc(quantityWord(quantity), arc);
  const time = formatAge(Math.max(1, Math.round(leavesIn)) * 1000);
  return capital(say.leaves(what, time, leavesAfter === null ? null : shown('length', leavesAfter)));
}

function shortWires(outlook: Outlook | null): Outlook['wire'] {
  return outlook?.wire.filter(({ endsShortBy }) => endsShortBy !== null && endsShortBy > 0) ?? [];
}

/** A smaller difference is not a wrong clock, as messages take a moment and blocks are sent once they are full; s. Common practice, no source. */
const noticed = 30;

/** "Carriage clock is 20 min ahead", if the carriage's clock differs that much from the service's; otherwise null. */
export function clockWords({ clockOffset }: Pick<Carriage, 'clockOffset'>): string | null {
  if (clockOffset === null || Math.abs(clockOffset) < noticed) return null;
  const age = formatAge(Math.abs(clockOffset) * 1000);
  // Arrival less device time: below zero the device is ahead.
  return clockOffset < 0 ? sharedWords().clockAhead(age) : sharedWords().clockBehind(age);
}
