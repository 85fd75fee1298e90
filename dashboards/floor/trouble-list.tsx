import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { carriageVerdict, isWrong } from '../shared/carriage-verdict.js';
import { carriageAt } from '../shared/carriages-now.js';
import { isConnected } from '../shared/is-connected.js';
import { Mark } from '../shared/mark.js';
import { serverNow } from '../shared/now.js';
import { seamAndRun } from '../shared/run-word.js';
import { useBox } from '../shared/use-box.js';
import { verdictWords } from '../shared/verdict-words.js';
import { wordsOf } from '../shared/words.js';
import { floorState } from './floor-state.js';
import { floorWords } from './floor-words.js';
import { isKiosk } from './kiosk.js';
import { shortForm } from './short-form.js';

/** A row of the list, in units of its type. */
const rowHeight = 2.45;

/** Those that ask for attention, the most urgent first, beside the floor on which each keeps its place. */
export function TroubleList(): JSX.Element {
  const say = wordsOf(floorWords);
  const { troubled, lost, cause } = floorState.value;
  const { box, place } = useBox<HTMLDivElement>();
  const unit = parseFloat(place.current === null ? '16' : getComputedStyle(place.current).fontSize);
  const fit = Math.max(1, Math.floor(box.height / (unit * rowHeight)));
  // The last row tells how many more there are.
  const shown = troubled.length <= fit ? troubled : troubled.slice(0, fit - 1);
  return (
    <section class="trouble-list" aria-label={say.attention}>
      <div class="trouble-room" ref={place}>
        {troubled.length === 0 && cause === null && <p class="trouble-none">{lost > 0 ? say.alarmsNotKnown : say.noneTroubled}</p>}
        <ul>
          {shown.map((key) => (
            <Row key={key} id={key} />
          ))}
        </ul>
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
  const { site, carriage: name, assignment } = carriage;
  return (
    <li>
      <p class="trouble-first">
        <Mark name={wrong ? verdict.mark : 'warning'} />{' '}
        {isKiosk.value ? <span class="trouble-name">{name}</span> : <a class="trouble-name" href={writeAddress(['station', site, name])}>{name}</a>} <span class={wrong ? 'out-text' : undefined}>{shortForm(carriage, verdict, false)}</span>
      </p>
      <p class="trouble-job">{assignment === null ? wordsOf(verdictWords).noAssignment : seamAndRun(assignment)}</p>
    </li>
  );
}
