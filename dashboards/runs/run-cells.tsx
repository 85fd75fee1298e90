import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { whyIncomplete } from '../run/run-text.js';
import { Mark } from '../shared/mark.js';
import { Reading } from '../shared/reading.js';
import { digitsOf, labelled } from '../shared/units.js';
import { runsWords } from './runs-words.js';

/** A heat input of a run, marked where average values of an alternating arc make it doubtful. */
export function HeatInputCell({ run, label, value, stale }: { readonly run: Run; readonly label: string; readonly value: number | null; readonly stale: boolean }): JSX.Element {
  return (
    <td class="number" data-label={labelled(label, 'heatInput')}>
      <span class="place">{run.flags.includes('averageOfAlternating') && value !== null && <Mark name="warning" />} <Reading text={digitsOf('heatInput', value)} stale={stale} /></span>
    </td>
  );
}

/** Whether the data of a run is complete, or what of it is missing. */
export function DataCell({ run }: { readonly run: Run }): JSX.Element {
  const say = runsWords();
  return (
    <td class={run.complete ? undefined : 'out'} data-label={say.data}>
      {run.complete ? say.complete : <><Mark name="warning" /> {say.incomplete(say.joined(whyIncomplete(run)))}</>}
    </td>
  );
}
