import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { formatNumber, formatPercent } from '../shared/format.js';
import { quantities } from '../shared/quantities.js';
import { Reading } from '../shared/reading.js';
import type { CarriageState } from '../shared/carriage-state.js';
import { staleWords } from '../shared/stale-words.js';

type Arc = Carriage['arcs'][number];

/** Current, voltage and feed of each arc; a column each, so that arcs can be compared. */
export function ArcValues({ arcs, state }: { readonly arcs: readonly Arc[]; readonly state: CarriageState }): JSX.Element | null {
  if (arcs.length === 0) return <p class="none">It has sent no readings yet.</p>;
  return (
    <table class="values">
      <thead>
        <tr>
          <td />
          {arcs.map(({ arc, on }) => (
            <th key={arc} scope="col">
              Arc {arc} <span class="arc-state">{on ? 'on' : 'off'}</span>
            </th>
          ))}
          <td />
        </tr>
      </thead>
      <tbody>
        {(['current', 'voltage', 'wireFeedSpeed'] as const).map((name) => (
          <tr key={name} class={name === 'wireFeedSpeed' ? undefined : 'leading'}>
            <th scope="row">{quantities[name].label}</th>
            {arcs.map((own) => (
              <td key={own.arc} class="number">
                <Reading text={formatNumber(own[name], quantities[name].decimals)} stale={state.stale} />
              </td>
            ))}
            <td class="unit">
              {quantities[name].unit} {arcs.some((own) => own[name] !== null) && staleWords(state)}
            </td>
          </tr>
        ))}
        {(['currentVariation', 'voltageVariation'] as const).map((name) => (
          <tr key={name}>
            <th scope="row">{name === 'currentVariation' ? 'Current variation' : 'Voltage variation'}</th>
            {arcs.map((own) => (
              <td key={own.arc} class="number">
                <Reading text={formatPercent(own[name])} stale={state.stale} />
              </td>
            ))}
            <td class="unit">% {arcs.some((own) => own[name] !== null) && staleWords(state)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
