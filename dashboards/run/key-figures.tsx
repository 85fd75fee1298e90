import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { formatNumber } from '../shared/format.js';
import { quantities } from '../shared/quantities.js';
import { Reading } from '../shared/reading.js';

/** The figures that are asked for first; where one is missing, why. */
export function KeyFigures({ run, stale }: { readonly run: Run; readonly stale: boolean }): JSX.Element {
  const items = [
    { label: 'Heat input', mean: false, value: run.heatInput, of: quantities.heatInput, why: run.absent['heatInput'] },
    { label: 'Length', mean: false, value: run.length, of: quantities.length, why: run.absent['length'] },
    { label: 'Arc time', mean: false, value: run.arcTime, of: quantities.arcTime, why: run.absent['arcTime'] },
    { label: 'Travel speed', mean: true, value: run.travelSpeed?.mean ?? null, of: quantities.travelSpeed, why: run.absent['travelSpeed'] },
    ...run.arcs.flatMap((arc) => {
      const [current, voltage] = run.arcs.length === 1 ? ['Current', 'Voltage'] : [`Arc ${arc.arc} current`, `Arc ${arc.arc} voltage`];
      return [
        { label: current, mean: true, value: arc.current?.mean ?? null, of: quantities.current, why: arc.absent['current'] },
        { label: voltage, mean: true, value: arc.voltage?.mean ?? null, of: quantities.voltage, why: arc.absent['voltage'] },
      ];
    }),
  ];
  return (
    <dl class="key-figures">
      {items.map(({ label, mean, value, of, why }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>
            <span class="value">
              <Reading text={formatNumber(value, of.decimals)} stale={stale} />
            </span>{' '}
            <span class="unit">{value === null ? why : mean ? `${of.unit} mean` : of.unit}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}
