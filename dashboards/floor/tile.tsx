import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { writeAddress } from '../shared/address.js';
import { carriageVerdict, isWrong, verdictText, type CarriageVerdict } from '../shared/carriage-verdict.js';
import { carriageAt } from '../shared/carriages-now.js';
import { isWarned } from '../shared/carriage-warnings.js';
import { isConnected } from '../shared/is-connected.js';
import { Mark } from '../shared/mark.js';
import { serverNow } from '../shared/now.js';
import { runEnd } from '../shared/outlook.js';
import { seamAndRun } from '../shared/common-words.js';
import { sharedWords } from '../shared/shared-words.js';
import { Simulated } from '../shared/simulated.js';
import { formatHour } from '../shared/times.js';
import { digitsOf, shown } from '../shared/units.js';
import { verdictWords } from '../shared/verdict-words.js';
import { leastNearShare, type TileKind } from './floor-layout.js';
import { floorState, isKiosk } from './floor-state.js';
import { floorWords } from './floor-words.js';
import { shortForm } from './short-form.js';
import { fitLine, textWidth } from './text-width.js';
import { cellType, layCells } from './lay-cells.js';
import { TileCells } from './tile-cells.js';
import { TileMenu } from './tile-menu.js';
import { TileNotes } from './tile-notes.js';
import { TileValues, valuesAtEnd } from './tile-values.js';

/** One carriage in its place: its state in a shape and a word, its values, what it welds, and what is wrong. */
export function Tile({ id, kind, room, high, unit }: { readonly id: string; readonly kind: TileKind } & Pick<TileParts, 'room' | 'high' | 'unit'>): JSX.Element | null {
  const carriage = carriageAt(id)?.value;
  if (carriage === undefined) return null;
  const verdict = carriageVerdict(carriage, serverNow.value, isConnected.value);
  // A cause that many carriages share is shown once, above, and not on each tile.
  const shared = floorState.value.cause?.keys.includes(id) === true;
  const wrong = isWrong(verdict.verdict) && !shared;
  const warned = verdict.verdict === 'inside' && isWarned(carriage);
  return (
    <li class={`tile tile-${kind} ${wrong ? 'tile-trouble' : warned ? 'tile-warned' : ''}`} data-carriage={id} data-verdict={verdict.verdict}>
      {kind === 'full' ? <FullTile {...{ carriage, verdict, wrong, warned, room, high, unit }} /> : <ShortTile {...{ carriage, verdict, kind, wrong, warned, room, high, unit }} />}
      {!isKiosk.value && <TileMenu carriage={carriage} />}
    </li>
  );
}

interface TileParts {
  readonly carriage: Carriage;
  readonly verdict: CarriageVerdict;
  readonly wrong: boolean;
  readonly warned: boolean;
  /** The inside of the tile, in units of its type. */
  readonly room: number;
  readonly high: number;
  /** That type, px. */
  readonly unit: number;
}

/** Width of a mark with the gap behind it, and of the corner with the button for more. */
const markWidth = 1.1;
const cornerWidth = 1.2;
/** Width of the button with three dots at the end of a short tile, px, whatever its type. As in tile.css. */
const menuWidth = 26;
/** Type of the job and of the short form, in units of the tile's type. */
const jobType = 0.667;
const shortType = 0.75;
const leastShort = 0.45;
/** The most room above and below values with trends, in units of the tile's type. */
const aroundCells = { full: 6.3, trends: 2.4 } as const;

function FullTile({ carriage, verdict, wrong, warned, room, high }: TileParts): JSX.Element {
  const simulated = carriage.assignment?.simulated === true;
  const state = verdictText(verdict);
  const beside = room - textWidth(`${carriage.carriage}\u00a0\u00a0`, true) - cornerWidth;
  return (
    <>
      <p class="tile-name">
        <Name carriage={carriage} /> <span class="tile-job" style={{ '--fit': fitLine(job(carriage), beside, jobType) }}>{job(carriage)}</span>
      </p>
      <p class={wrong ? 'tile-state out-text' : 'tile-state'} style={{ fontSize: `${fitLine(state, room - markWidth - (simulated ? textWidth(sharedWords().simulated) * 0.45 + 0.6 : 0), 1, true)}em` }}>
        <Mark name={warned ? 'warning' : verdict.mark} /> {state} {simulated && <Simulated />}
      </p>
      <TileNotes carriage={carriage} verdict={verdict} room={room} />
      <TileCells carriage={carriage} verdict={verdict} cells={layCells(carriage, room, high - aroundCells.full)} />
      <TileEnd carriage={carriage} verdict={verdict} room={room} />
    </>
  );
}

function ShortTile({ carriage, verdict, wrong, warned, kind, room, high, unit }: TileParts & { readonly kind: Exclude<TileKind, 'full'> }): JSX.Element {
  const text = shortForm(carriage, verdict, kind !== 'line');
  const laid = kind === 'trends' ? layCells(carriage, room, high - aroundCells.trends) : null;
  // If the values would be too small to read, the trends are left out and the values get their lines.
  const cells = laid !== null && laid.scale * cellType.digits * unit >= window.innerWidth * leastNearShare ? laid : null;
  const before = markWidth + textWidth(`${carriage.carriage}\u00a0`, true);
  const free = room - (kind === 'line' ? valuesAtEnd(unit) + 0.2 : (kind === 'trends' || kind === 'lines') && !isKiosk.value ? menuWidth / unit : 0);
  // Mark and name stay large; a long short form gets smaller first, and everything only after that.
  const type = Math.max(leastShort, fitLine(text, free - before, kind === 'line' ? shortType : 1));
  const fit = Math.min(1, free / (before + textWidth(text) * type));
  return (
    <>
      <p class="tile-first" style={{ fontSize: `${fit}em` }}>
        <Mark name={warned ? 'warning' : verdict.mark} /> <Name carriage={carriage} /> <span class={wrong ? 'tile-short out-text' : 'tile-short'} style={{ fontSize: `${type}em` }}>{text}</span>
      </p>
      {cells !== null ? <TileCells {...{ carriage, verdict, cells }} /> : <TileValues carriage={carriage} verdict={verdict} kind={kind === 'trends' ? 'lines' : kind} room={room} high={high} unit={unit} />}
      {(kind === 'trends' || kind === 'lines') && <p class="tile-seam" style={{ fontSize: `${fitLine(job(carriage), room, jobType)}em` }}>{job(carriage)}</p>}
    </>
  );
}

function Name({ carriage: { site, carriage } }: { readonly carriage: Carriage }): JSX.Element {
  if (isKiosk.value) return <span class="tile-own-name">{carriage}</span>;
  return (
    <a class="tile-own-name" href={writeAddress(['station', site, carriage])} aria-label={floorWords().carriage(carriage, site)}>
      {carriage}
    </a>
  );
}

function job({ assignment }: Carriage): string {
  return assignment === null ? verdictWords().noAssignment : seamAndRun(assignment);
}

const endType = 0.667;

/** How far the run has come and has to go, and when it will be done. For a silent carriage only how far it had come, as nobody knows whether it went on. */
function TileEnd({ carriage, verdict, room }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly room: number }): JSX.Element | null {
  if (carriage.run === null) return null;
  const { done, whole, toGo, endsAt } = runEnd(carriage);
  const say = verdictWords();
  const own = floorWords();
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
      <p style={{ '--fit': fitLine(text, room, endType) }}>{text}</p>
    </div>
  );
}
