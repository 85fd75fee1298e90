import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { judgedArcNames, judgedRunNames } from '../../shared/weld/quantities.js';
import { shownAs } from '../shared/alarm-sentence.js';
import { newestValue, type CarriageVerdict } from '../shared/carriage-verdict.js';
import { liveText } from '../shared/live-text.js';
import { formatAge } from '../shared/times.js';
import { shown } from '../shared/units.js';
import { shortFormWords } from './short-form-words.js';

const symbols = [...judgedArcNames, ...judgedRunNames, 'meanHeatInput'] as const;
type SymbolName = (typeof symbols)[number];

/** "U +2.6 V", "no data 12 s", "OK": how a carriage is, short enough to be read from afar; what is wrong with its number. `wide` has room for units and ages. */
export function shortForm(carriage: Carriage, { verdict, alarm, state }: CarriageVerdict, wide: boolean): string {
  const say = shortFormWords();
  if (verdict === 'silent') return say.silent(state.age === null || !wide ? null : formatAge(state.age));
  if (verdict === 'outside' || verdict === 'fault') return alarm === null ? say.notJudged : shortAlarm(carriage, alarm, wide);
  return verdict === 'inside' ? (shortWarning(carriage) ?? say.inside) : say[verdict];
}

/** "U2 +2.6 V": the quantity, its arc if there are several, and how far it now lies beyond its limit, or how far it lay at worst if it is back inside. */
export function shortAlarm(carriage: Carriage, alarm: Alarm, wide: boolean): string {
  const say = shortFormWords();
  const { quantity, arc, limit, worst } = alarm;
  if (quantity === 'noData') return say.silent(null);
  if (quantity === 'travelStopped' || quantity === 'polarity' || quantity === 'feedMismatch') return say[quantity];
  if (quantity === 'overlap') return say.overlap(shown('fineLength', Math.abs(worst ?? 0)));
  const symbol = symbolOf(quantity, carriage.arcs.length > 1 ? arc : null);
  const name = shownAs(quantity);
  if (limit === null || worst === null || name === null) return symbol;
  const above = worst > limit;
  const value = newestValue(carriage, alarm);
  const isOut = value !== null && (above ? value > limit : value < limit);
  const far = liveText(name, Math.abs((isOut ? value : worst) - limit));
  const by = `${above ? '+' : '\u2212'}${wide ? far : (far.split('\u00a0')[0] ?? far)}`;
  return isOut ? `${symbol} ${by}` : say.upTo(symbol, by);
}

/** "U in 41 s": the quantity that will leave its limits first, or how much wire is missing; null if there is no such warning. */
function shortWarning({ welding, drift, outlook, arcs }: Carriage): string | null {
  if (!welding) return null;
  const say = shortFormWords();
  const [first] = drift;
  if (first !== undefined) return say.soon(symbolOf(first.quantity, arcs.length > 1 ? first.arc : null), formatAge(Math.max(1, Math.round(first.leavesIn)) * 1000));
  const short = Math.max(0, ...(outlook?.wire.map(({ endsShortBy }) => endsShortBy ?? 0) ?? []));
  return short > 0 ? say.wire(shown('length', short)) : null;
}

function symbolOf(quantity: string, arc: number | null): string {
  const say = shortFormWords();
  const symbol = isSymbol(quantity) ? say[quantity] : quantity;
  return arc === null ? symbol : say.atArc(symbol, arc);
}

function isSymbol(name: string): name is SymbolName {
  return (symbols as readonly string[]).includes(name);
}
