import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { writeAddress } from '../shared/address.js';
import { carriageVerdict, isWrong } from '../shared/carriage-verdict.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { carriageAt } from '../shared/carriages-now.js';
import { isWarned } from '../shared/carriage-warnings.js';
import { isConnected } from '../shared/is-connected.js';
import { Mark } from '../shared/mark.js';
import { serverNow } from '../shared/now.js';
import { seamAndRun } from '../shared/run-word.js';
import { Simulated } from '../shared/simulated.js';
import { verdictText } from '../shared/verdict-text.js';
import { verdictWords } from '../shared/verdict-words.js';
import { wordsOf } from '../shared/words.js';
import type { TileKind } from './floor-layout.js';
import { floorState } from './floor-state.js';
import { floorWords } from './floor-words.js';
import { isKiosk } from './kiosk.js';
import { shortForm } from './short-form.js';
import { TileEnd } from './tile-end.js';
import { TileMenu } from './tile-menu.js';
import { TileNotes } from './tile-notes.js';
import { TileValues } from './tile-values.js';

/** One carriage in its place: how it is in a shape and a word, its values, what it welds, and what is wrong. */
export function Tile({ id, kind }: { readonly id: string; readonly kind: TileKind }): JSX.Element | null {
  const carriage = carriageAt(id)?.value;
  if (carriage === undefined) return null;
  const verdict = carriageVerdict(carriage, serverNow.value, isConnected.value);
  // What many share is said once, above; a tile of its own would say it as often as there are carriages.
  const shared = floorState.value.cause?.keys.includes(id) === true;
  const wrong = isWrong(verdict.verdict) && !shared;
  const warned = verdict.verdict === 'inside' && isWarned(carriage);
  return (
    <li class={`tile tile-${kind} ${wrong ? 'tile-trouble' : warned ? 'tile-warned' : ''}`} data-carriage={id} data-verdict={verdict.verdict}>
      {kind === 'full' ? <FullTile carriage={carriage} verdict={verdict} wrong={wrong} warned={warned} /> : <ShortTile carriage={carriage} verdict={verdict} kind={kind} wrong={wrong} warned={warned} />}
      {!isKiosk.value && kind !== 'line' && <TileMenu carriage={carriage} />}
    </li>
  );
}

interface TileParts {
  readonly carriage: Carriage;
  readonly verdict: CarriageVerdict;
  readonly wrong: boolean;
  readonly warned: boolean;
}

function FullTile({ carriage, verdict, wrong, warned }: TileParts): JSX.Element {
  return (
    <>
      <p class="tile-name">
        <Name carriage={carriage} /> <span class="tile-job">{job(carriage)}</span>
      </p>
      <p class={wrong ? 'tile-state out-text' : 'tile-state'}>
        <Mark name={warned ? 'warning' : verdict.mark} /> {verdictText(verdict)} {carriage.assignment?.simulated === true && <Simulated />}
      </p>
      <TileNotes carriage={carriage} verdict={verdict} />
      <TileValues carriage={carriage} verdict={verdict} kind="full" />
      <TileEnd carriage={carriage} verdict={verdict} />
    </>
  );
}

function ShortTile({ carriage, verdict, wrong, warned, kind }: TileParts & { readonly kind: TileKind }): JSX.Element {
  return (
    <>
      <p class="tile-line">
        <Mark name={warned ? 'warning' : verdict.mark} /> <Name carriage={carriage} /> <span class={wrong ? 'tile-short out-text' : 'tile-short'}>{shortForm(carriage, verdict, kind !== 'line')}</span>
      </p>
      {kind === 'lines' && <TileValues carriage={carriage} verdict={verdict} kind={kind} />}
      {kind === 'lines' && <p class="tile-seam">{job(carriage)}</p>}
    </>
  );
}

function Name({ carriage: { site, carriage } }: { readonly carriage: Carriage }): JSX.Element {
  if (isKiosk.value) return <span class="tile-own-name">{carriage}</span>;
  return (
    <a class="tile-own-name" href={writeAddress(['station', site, carriage])} aria-label={wordsOf(floorWords).carriage(carriage, site)}>
      {carriage}
    </a>
  );
}

function job({ assignment }: Carriage): string {
  return assignment === null ? wordsOf(verdictWords).noAssignment : seamAndRun(assignment);
}
