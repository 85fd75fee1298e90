import type { JSX } from 'preact';
import type { CarriageState } from '../shared/carriage-state.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { seriesName } from '../shared/series-name.js';
import { useBox } from '../shared/use-box.js';
import type { History } from './history.js';
import { layDigits, useDigitShape } from './lay-digits.js';
import './quantities.css';
import { QuantityCell } from './quantity-cell.js';
import { stationQuantities } from './station-quantities.js';

/** As in quantities.css. */
const digitWeight = 600;

/** px of the station's type, as in station.css. */
function typeSize(): number {
  return Math.max(16, 0.016 * window.innerWidth);
}

/** The values with their ranges, in digits as large as the room allows. Their room is what the fixed places leave, whatever is wrong. */
export function Quantities({ carriage, state, history }: { readonly carriage: Carriage; readonly state: CarriageState; readonly history: History }): JSX.Element {
  const shown = stationQuantities(carriage);
  const shape = useDigitShape(digitWeight);
  const { box, place } = useBox<HTMLDivElement>();
  const layout = layDigits(shown.length, shape, box.width, box.height, window.innerWidth, typeSize());
  return (
    <div class="quantity-room" ref={place}>
      <ul class="quantities" style={{ '--digits': `${layout.digits}px`, gridTemplateColumns: `repeat(${layout.columns}, minmax(0, 1fr))` }}>
        {shown.map((own) => <QuantityCell key={seriesName(own)} own={own} state={state} points={history.get(seriesName(own)) ?? []} />)}
      </ul>
    </div>
  );
}
