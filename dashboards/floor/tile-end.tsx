import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { runEnd } from '../shared/outlook.js';
import { formatHour } from '../shared/times.js';
import { digitsOf, shown } from '../shared/units.js';
import { verdictWords } from '../shared/verdict-words.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';
import { fitLine } from './text-width.js';

const type = 0.667;

/** How far the run has come and has to go, and when it will be done. For a silent carriage only how far it had come, as nobody knows whether it went on. */
export function TileEnd({ carriage, verdict, room }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly room: number }): JSX.Element | null {
  if (carriage.run === null) return null;
  const { done, whole, toGo, endsAt } = runEnd(carriage);
  const say = wordsOf(verdictWords);
  const own = wordsOf(floorWords);
  const isHeard = !verdict.state.stale && verdict.verdict !== 'lost';
  const place = done === null ? null : whole === null ? own.welded(shown('length', done)) : own.weldedOf(digitsOf('length', done), shown('length', whole));
  const ahead = [toGo === null ? place : say.toGo(shown('length', toGo)), endsAt === null ? null : say.ends(formatHour(endsAt))].filter((text) => text !== null);
  const text = isHeard ? ahead.join(' · ') : place === null ? '' : say.lastKnown(place);
  if (text === '') return null;
  return (
    <div class="tile-end">
      {done !== null && whole !== null && (
        <div class="tile-progress" aria-hidden="true"><div style={{ width: `${(done / whole) * 100}%` }} /></div>
      )}
      <p style={{ '--fit': fitLine(text, room, type) }}>{text}</p>
    </div>
  );
}
