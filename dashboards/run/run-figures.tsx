import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { quantities } from '../shared/quantities.js';
import { FigureTable } from './figure-table.js';

const share = { unit: '', decimals: 2 };

export function RunFigures({ run }: { readonly run: Run }): JSX.Element {
  const { absent, lengths, weldZone, travelSpeed } = run;
  const why = absent['lengths'];
  return (
    <section>
      <h2>Figures of the run</h2>
      <FigureTable
        rows={[
          { label: 'Heat input', value: run.heatInput, of: quantities.heatInput, why: absent['heatInput'] },
          { label: 'Arc energy', value: run.arcEnergy, of: quantities.arcEnergy, why: absent['arcEnergy'] },
          { label: 'Thermal efficiency', value: run.thermalEfficiency, of: share },
          { label: 'Energy', value: run.energy, of: quantities.energy, why: absent['energy'] },
          { label: 'Arc time', value: run.arcTime, of: quantities.arcTime, why: absent['arcTime'] },
          { label: 'Duration', value: run.duration, of: quantities.duration, why: absent['duration'] },
          { label: 'Travelled, with its sign', value: run.travelled, of: quantities.travelled, why: absent['travelled'] },
          { label: 'Travel speed, mean', value: travelSpeed?.mean ?? null, of: quantities.travelSpeed, why: absent['travelSpeed'] },
          { label: 'least', part: true, value: travelSpeed?.min ?? null, of: quantities.travelSpeed, why: absent['travelSpeed'] },
          { label: 'greatest', part: true, value: travelSpeed?.max ?? null, of: quantities.travelSpeed, why: absent['travelSpeed'] },
          { label: 'standard deviation', part: true, value: travelSpeed?.standardDeviation ?? null, of: { unit: 'mm/min', decimals: 1 }, why: absent['travelSpeed'] },
        ]}
      />
      <h3>Length, and what is known of it</h3>
      <FigureTable
        rows={[
          { label: 'Inside all windows', value: lengths?.inside ?? null, of: quantities.length, why },
          { label: 'Outside a window', value: lengths?.outside ?? null, of: quantities.length, why },
          { label: 'Not proven', value: lengths?.notProven ?? null, of: quantities.length, why },
          { label: 'Excluded (ignition, crater, tabs)', value: lengths?.excluded ?? null, of: quantities.length, why },
          { label: 'Length', value: run.length, of: quantities.length, why: absent['length'] },
        ]}
      />
      <h3>Weld zone: without ignition, crater and tabs</h3>
      <FigureTable
        rows={[
          { label: 'Heat input', value: weldZone.heatInput, of: quantities.heatInput, why: absent['weldZone.heatInput'] },
          { label: 'Length', value: weldZone.length, of: quantities.length, why: absent['weldZone.length'] },
          { label: 'Arc time', value: weldZone.arcTime, of: quantities.arcTime, why: absent['weldZone.arcTime'] },
          { label: 'Energy', value: weldZone.energy, of: quantities.energy, why: absent['weldZone.energy'] },
        ]}
      />
    </section>
  );
}
