import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { runEnd } from '../shared/outlook.js';
import { formatHour } from '../shared/times.js';
import { digitsOf, shown } from '../shared/units.js';
import { verdictWords } from '../shared/verdict-words.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';

/** How far the run has come, how far it has to go, and when it is done. */
export function TileEnd({ carriage, verdict }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict }): JSX.Element | null {
  const { travelled, assignment } = carriage;
  const { toGo, endsAt } = runEnd(carriage);
  if (carriage.run === null) return null;
  const say = wordsOf(verdictWords);
  const length = assignment?.seamLength;
  const share = travelled === null || length === undefined ? null : Math.min(1, Math.max(0, travelled / length));
  const place = travelled === null ? null : length === undefined ? shown('length', travelled) : wordsOf(floorWords).ofLength(digitsOf('length', travelled), shown('length', length));
  const texts = [toGo === null ? place : say.toGo(shown('length', toGo)), endsAt === null ? null : say.ends(formatHour(endsAt))].filter((text) => text !== null);
  if (texts.length === 0) return null;
  return (
    <div class="tile-end">
      {share !== null && (
        <div class="tile-progress" aria-hidden="true">
          <div style={{ width: `${share * 100}%` }} />
        </div>
      )}
      <p>{verdict.state.stale || verdict.verdict === 'lost' ? <s>{texts.join(' · ')}</s> : texts.join(' · ')}</p>
    </div>
  );
}
