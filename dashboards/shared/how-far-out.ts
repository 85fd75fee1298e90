import type { Alarm } from '../../shared/api-types/alarm.js';
import { judgedArcNames } from '../../shared/weld/quantities.js';
import { shownAs } from './alarm-sentence.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { shown } from './units.js';
import { verdictWords } from './verdict-words.js';
import { wordsOf } from './words.js';

/** The newest value of the alarm's quantity; null if there is none. Heat input is judged along the seam, so it is that of the newest stretch. */
export function newestValue(carriage: Carriage, { quantity, arc }: Pick<Alarm, 'quantity' | 'arc'>): number | null {
  if (quantity === 'travelSpeed') return carriage.travelSpeed;
  if (quantity === 'heatInput') return carriage.localHeatInput;
  const name = judgedArcNames.find((own) => own === quantity);
  return name === undefined ? null : (carriage.arcs.find((one) => one.arc === arc)?.[name] ?? null);
}

/**
 * "1.2 V above": how far the newest value lies beyond the limit that was crossed. If the value is back inside (during its off-delay) or not known, how far
 * the worst one lay: "at worst 1.2 V above". Null if the alarm has no limit.
 */
export function howFarOut(carriage: Carriage, alarm: Alarm): string | null {
  const { limit, worst } = alarm;
  const name = shownAs(alarm.quantity);
  if (limit === null || worst === null || name === null) return null;
  const say = wordsOf(verdictWords);
  const above = worst > limit;
  const value = newestValue(carriage, alarm);
  const isOut = value !== null && (above ? value > limit : value < limit);
  const by = shown(name, Math.abs((isOut ? value : worst) - limit));
  const text = above ? say.above(by) : say.below(by);
  return isOut ? text : say.atWorst(text);
}
