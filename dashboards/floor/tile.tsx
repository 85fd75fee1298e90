import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { alarmSentence } from '../shared/alarm-sentence.js';
import { carriageAt } from '../shared/carriages-now.js';
import { carriageVerdict, isWrong } from '../shared/carriage-verdict.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { Mark } from '../shared/mark.js';
import { isConnected } from '../shared/is-connected.js';
import { serverNow } from '../shared/now.js';
import { seamAndRun } from '../shared/run-word.js';
import { Simulated } from '../shared/simulated.js';
import { formatAge } from '../shared/times.js';
import { verdictText } from '../shared/verdict-text.js';
import { verdictWords } from '../shared/verdict-words.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';
import { TileDetails } from './tile-details.js';
import { TileEnd } from './tile-end.js';
import { TileTrouble } from './tile-trouble.js';

/** One carriage: how it is in a shape and a word, what it welds, and what is wrong. A large one says it in sentences. */
export function Tile({ id, large }: { readonly id: string; readonly large: boolean }): JSX.Element | null {
  const carriage = carriageAt(id)?.value;
  if (carriage === undefined) return null;
  const verdict = carriageVerdict(carriage, serverNow.value, isConnected.value);
  const { site, carriage: name, assignment } = carriage;
  const kind = isWrong(verdict.verdict) ? 'tile-trouble' : '';
  return (
    <li class={`tile ${large ? 'tile-large' : ''} ${kind}`} data-carriage={id} data-verdict={verdict.verdict}>
      <p class="tile-name">
        <a href={writeAddress(['station', site, name])} aria-label={wordsOf(floorWords).carriage(name, site)}>
          {name}
        </a>{' '}
        <span class="tile-site">{site}</span> {assignment?.simulated === true && <Simulated />}
      </p>
      <p class={kind === '' ? 'tile-state' : 'tile-state out-text'}>
        <Mark name={verdict.mark} /> {verdictText(verdict)}
      </p>
      <p class="tile-seam">
        {assignment === null ? wordsOf(verdictWords).noAssignment : seamAndRun(assignment)}
      </p>
      <Middle carriage={carriage} verdict={verdict} large={large} />
      <TileEnd carriage={carriage} verdict={verdict} large={large} />
    </li>
  );
}

function Middle({ carriage, verdict, large }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly large: boolean }): JSX.Element | null {
  const { state } = verdict;
  if (verdict.verdict === 'silent' || verdict.verdict === 'lost') {
    const age = state.age === null ? null : formatAge(state.age);
    const isLost = verdict.verdict === 'lost';
    const words = age === null ? wordsOf(floorWords).noData : isLost ? wordsOf(floorWords).lastData(age) : large ? state.words : wordsOf(floorWords).forAge(age);
    return (
      <>
        <p class={isLost ? 'tile-out' : 'tile-out out-text'}>{words}</p>
        {large && verdict.alarm !== null && <p class="tile-sentence">{alarmSentence(verdict.alarm, null)}</p>}
      </>
    );
  }
  if (verdict.alarm !== null) return <TileTrouble carriage={carriage} alarm={verdict.alarm} large={large} />;
  return <TileDetails carriage={carriage} large={large} />;
}
