import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { counted, formatNumber } from '../shared/format.js';
import { Reading } from '../shared/reading.js';
import { arcRows } from './arc-rows.js';

/** The arcs side by side, so that they can be compared; below, why a figure is missing. */
export function ArcFigures({ run }: { readonly run: Run }): JSX.Element {
  const { arcs } = run;
  const missing = arcs.flatMap((arc) => Object.entries(arc.absent).map(([name, why]) => ({ name: arcs.length === 1 ? name : `${name}, arc ${arc.arc}`, why })));
  return (
    <section>
      <h2>Figures of {arcs.length === 1 ? 'the arc' : counted(arcs.length, 'arc')}</h2>
      {arcs.length === 0 ? (
        <p class="none">No arc has figures yet.</p>
      ) : (
        <table class="figures">
          <thead>
            <tr>
              <td />
              {arcs.map(({ arc }) => (
                <th key={arc} scope="col" class="number">
                  Arc {arc}
                </th>
              ))}
              <td />
            </tr>
          </thead>
          <tbody>
            {arcRows.map(({ label, part, unit, decimals, value }, at) => (
              <tr key={at} class={part === true ? 'part' : undefined}>
                <th scope="row">{label}</th>
                {arcs.map((arc) => (
                  <td key={arc.arc} class="number">
                    <Reading text={formatNumber(value(arc), decimals)} stale={false} />
                  </td>
                ))}
                <td class="unit">{unit}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {missing.length > 0 && (
        <>
          <h3>What is absent, and why</h3>
          <dl class="facts">
            {missing.map(({ name, why }) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{why}</dd>
              </div>
            ))}
          </dl>
        </>
      )}
    </section>
  );
}
