import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { carriageVerdict, isWrong } from '../shared/carriage-verdict.js';
import { carriageAt } from '../shared/carriages-now.js';
import { isConnected } from '../shared/is-connected.js';
import { Mark } from '../shared/mark.js';
import { serverNow } from '../shared/now.js';
import { useBox } from '../shared/use-box.js';
import { floorState, isKiosk } from './floor-state.js';
import { floorWords } from './floor-words.js';
import { shortForm } from './short-form.js';
import { fitLine, textWidth } from './text-width.js';

/** A row of the list, in units of its type. */
const rowHeight = 2.35;
/** The inner width of the list in units of its type, and the largest type of the short form; as in floor.css. */
const room = 4.3;
const shortType = 0.85;
/** Width of a mark with the gap before the name. */
const markWidth = 1.05;

/** Those that ask for attention, the most urgent first, beside the floor on which each keeps its place. */
export function TroubleList(): JSX.Element {
  const say = floorWords();
  const { troubled, lost, cause } = floorState.value;
  const { box, place } = useBox<HTMLDivElement>();
  const unit = parseFloat(place.current === null ? '16' : getComputedStyle(place.current).fontSize);
  const fit = Math.max(1, Math.floor(box.height / (unit * rowHeight)));
  // The last row says how many more there are.
  const shown = troubled.length <= fit ? troubled : troubled.slice(0, fit - 1);
  return (
    <section class="trouble-list" aria-label={say.attention}>
      <div class="trouble-room" ref={place}>
        {troubled.length === 0 && cause === null && <p class="trouble-none">{lost > 0 ? say.alarmsNotKnown : say.noneTroubled}</p>}
        <ul>{shown.map((key) => <Row key={key} id={key} />)}</ul>
        {shown.length < troubled.length && <p class="trouble-none">{say.moreTroubled(troubled.length - shown.length)}</p>}
      </div>
    </section>
  );
}

function Row({ id }: { readonly id: string }): JSX.Element | null {
  const carriage = carriageAt(id)?.value;
  if (carriage === undefined) return null;
  const verdict = carriageVerdict(carriage, serverNow.value, isConnected.value);
  const wrong = isWrong(verdict.verdict);
  const { site, carriage: name } = carriage;
  const text = shortForm(carriage, verdict, true);
  return (
    <li>
      <p style={{ fontSize: `${Math.min(1, room / (markWidth + textWidth(name, true)))}em` }}>
        <Mark name={wrong ? verdict.mark : 'warning'} /> {isKiosk.value ? <span class="trouble-name">{name}</span> : <a class="trouble-name" href={writeAddress(['station', site, name])}>{name}</a>}
      </p>
      <p class={wrong ? 'out-text' : undefined} style={{ fontSize: `${fitLine(text, room, shortType)}em` }}>{text}</p>
    </li>
  );
}
