import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { quantities } from '../shared/quantities.js';
import { FigureTable } from './figure-table.js';
import type { FigureRow } from './figure-table.js';

type Arc = Run['arcs'][number];

/** One table for each arc, side by side where there is room. */
export function ArcFigures({ run }: { readonly run: Run }): JSX.Element {
  return (
    <section>
      <h2>Figures of {run.arcs.length === 1 ? 'the arc' : 'each arc'}</h2>
      {run.arcs.length === 0 && <p class="none">No arc has figures yet.</p>}
      {run.arcs.map((arc) => (
        <div key={arc.arc}>
          {run.arcs.length > 1 && <h3>Arc {arc.arc}</h3>}
          <FigureTable rows={arcRows(arc)} />
        </div>
      ))}
    </section>
  );
}

function arcRows(arc: Arc): FigureRow[] {
  const { absent } = arc;
  const count = { unit: '', decimals: 0 };
  return [
    ...spreadRows('current', arc.current, 0, absent),
    { label: 'Current variation', value: percent(arc.currentVariation), of: { unit: '%', decimals: 1 }, why: absent['currentVariation'] },
    ...spreadRows('voltage', arc.voltage, 1, absent),
    { label: 'Voltage variation', value: percent(arc.voltageVariation), of: { unit: '%', decimals: 1 }, why: absent['voltageVariation'] },
    { label: 'Wire feed speed, mean', value: arc.wireFeedSpeed?.mean ?? null, of: quantities.wireFeedSpeed, why: absent['wireFeedSpeed'] },
    { label: 'Energy', value: arc.energy, of: quantities.energy, why: absent['energy'] },
    { label: 'Arc time', value: arc.arcTime, of: quantities.arcTime, why: absent['arcTime'] },
    { label: 'Length', value: arc.length, of: quantities.length, why: absent['length'] },
    { label: 'Extinctions', value: arc.extinctions, of: count, why: absent['extinctions'] },
    { label: 'Short circuits', value: arc.shortCircuits, of: count, why: absent['shortCircuits'] },
    { label: 'Samples with the arc on', value: arc.samples, of: count },
  ];
}

function spreadRows(name: 'current' | 'voltage', spread: Arc['current'], decimals: number, absent: Arc['absent']): FigureRow[] {
  const { label, unit } = quantities[name];
  const of = { unit, decimals };
  const why = absent[name];
  return [
    { label: `${label}, mean`, value: spread?.mean ?? null, of, why },
    { label: 'least', value: spread?.min ?? null, of, why },
    { label: 'greatest', value: spread?.max ?? null, of, why },
    { label: 'RMS', value: spread?.rms ?? null, of, why },
    { label: 'standard deviation', value: spread?.standardDeviation ?? null, of: { unit, decimals: decimals + 1 }, why },
  ];
}

function percent(share: number | null): number | null {
  return share === null ? null : share * 100;
}
