import type { JSX } from 'preact';
import { formatNumber } from '../shared/format.js';
import type { Quantity } from '../shared/quantities.js';
import { Reading } from '../shared/reading.js';

export interface FigureRow {
  readonly label: string;
  /** Belongs to the figure above it. */
  readonly part?: boolean;
  readonly value: number | null;
  readonly of: Pick<Quantity, 'unit' | 'decimals'>;
  /** Why it is missing. */
  readonly why?: string | undefined;
}

/** Figures one below the other, with their units, and the reason where one is missing. */
export function FigureTable({ rows }: { readonly rows: readonly FigureRow[] }): JSX.Element {
  return (
    <table class="figures">
      <tbody>
        {rows.map(({ label, part, value, of, why }, at) => (
          <tr key={at} class={part === true ? 'part' : undefined}>
            <th scope="row">{label}</th>
            <td class="number">
              <Reading text={formatNumber(value, of.decimals)} stale={false} />
            </td>
            <td class={value === null ? 'unit why' : 'unit'}>{value === null ? (why ?? 'not given') : of.unit}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
