import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { formatNumber } from '../shared/format.js';
import { quantities } from '../shared/quantities.js';
import { Reading } from '../shared/reading.js';
import type { CarriageState } from '../shared/carriage-state.js';
import { staleWords } from '../shared/stale-words.js';

/** Motion and the running figures of the run so far. */
export function RunValues({ carriage, state }: { readonly carriage: Carriage; readonly state: CarriageState }): JSX.Element {
  const rows = [
    { label: 'Travel speed', value: carriage.travelSpeed, of: quantities.travelSpeed, leading: true },
    { label: 'Heat input so far', value: carriage.heatInput, of: quantities.heatInput, leading: true },
    { label: 'Heat input, last 50 mm', value: carriage.localHeatInput, of: quantities.heatInput, leading: false },
    { label: 'Travelled', value: carriage.travelled, of: quantities.travelled, leading: false },
    { label: 'Place on the seam', value: carriage.seamPosition, of: quantities.seamPosition, leading: false },
  ];
  return (
    <table class="values">
      <tbody>
        {rows.map(({ label, value, of, leading }) => (
          <tr key={label} class={leading ? 'leading' : undefined}>
            <th scope="row">{label}</th>
            <td class="number">
              <Reading text={formatNumber(value, of.decimals)} stale={state.stale} />
            </td>
            <td class="unit">
              {of.unit} {value !== null && staleWords(state)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
