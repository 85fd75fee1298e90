import type { JSX } from 'preact';
import type { CarriageState } from '../shared/carriage-state.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { layDigits } from './lay-digits.js';
import './quantities.css';
import { QuantityCell } from './quantity-cell.js';
import { stationQuantities } from './station-quantities.js';
import { useDigitShape } from './use-digit-shape.js';
import { useRoom } from './use-room.js';

/** As in quantities.css. */
const digitWeight = 600;

/** The values with their ranges, in digits as large as the room allows. */
export function Quantities({ carriage, state }: { readonly carriage: Carriage; readonly state: CarriageState }): JSX.Element {
  const shown = stationQuantities(carriage);
  const shape = useDigitShape(digitWeight);
  const { room, place } = useRoom<HTMLDivElement>();
  const layout = layDigits(shown.length, shape, room.width, room.height, window.innerWidth);
  return (
    <div class="quantity-room" ref={place}>
      <ul class="quantities" style={{ '--digits': `${layout.digits}px`, gridTemplateColumns: `repeat(${layout.columns}, minmax(0, 1fr))` }}>
        {shown.map((own) => (
          <QuantityCell key={`${own.name} ${own.arc ?? ''}`} own={own} state={state} />
        ))}
      </ul>
    </div>
  );
}
