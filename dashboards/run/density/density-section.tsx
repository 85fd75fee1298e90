import type { JSX } from 'preact';
import type { Run } from '../../../shared/api-types/run.js';
import { formatNumber, shown, unitOf } from '../../shared/units.js';
import { densityPlot, type DensityPlot } from './density-plot.js';
import './density.css';
import { densityWords } from './density-words.js';
import { mayHaveDensity, useDensity } from './use-density.js';

/** Size of the picture's plot, and what its labels take, in units of its own. */
const plot = { width: 320, height: 200, left: 44, below: 34 };

/** Pictures of the arcs whose samples are close enough together. */
export function DensitySection({ run }: { readonly run: Run }): JSX.Element | null {
  const say = densityWords();
  const arcs = run.arcs.filter(mayHaveDensity);
  if (arcs.length === 0) return null;
  return (
    <section id="density">
      <h2>{say.heading}</h2>
      <p class="aside">{say.what}</p>
      {arcs.map(({ arc }) => <DensityPicture key={arc} run={run} arc={arc} />)}
    </section>
  );
}

function DensityPicture({ run, arc }: { readonly run: Run; readonly arc: number }): JSX.Element | null {
  const say = densityWords();
  const density = useDensity(run, arc);
  const laid = density === null ? null : densityPlot(density);
  if (density === null || laid === null) return null;
  const { peak } = laid;
  const range = (low: number, step: number, of: 'current' | 'voltage'): string => say.range(formatNumber(low, 0), `${formatNumber(low + step, 0)}\u00a0${unitOf(of)}`);
  const longest = say.longest(range(peak.voltage, density.voltageStep, 'voltage'), range(peak.current, density.currentStep, 'current'), `${formatNumber(peak.share * 100, 0)}\u00a0%`);
  return (
    <figure class="density">
      <figcaption>{say.arcLabel(arc)} · {longest} · {say.total(shown('time', density.seconds))}</figcaption>
      <Picture plotted={laid} label={`${say.heading}, ${say.arcLabel(arc)}: ${longest}`} />
    </figure>
  );
}

function Picture({ plotted: { marks, columns, rows, currents, voltages }, label }: { readonly plotted: DensityPlot; readonly label: string }): JSX.Element {
  const say = densityWords();
  const [across, up] = [plot.width / columns, plot.height / rows];
  return (
    <svg viewBox={`0 0 ${plot.left + plot.width + 12} ${plot.height + plot.below + 8}`} role="img" aria-label={label}>
      <g transform={`translate(${plot.left}, 8)`}>
        <rect class="density-field" width={plot.width} height={plot.height} />
        {marks.map(({ x, y, shade, current, voltage, seconds }) => (
          <rect key={`${x} ${y}`} class="density-cell" x={x * across} y={plot.height - (y + 1) * up} width={across} height={up} fill-opacity={shade}>
            <title>{`${shown('voltage', voltage)}, ${shown('current', current)}: ${shown('time', seconds)}`}</title>
          </rect>
        ))}
        {currents.map(({ at, value }) => <text key={value} class="density-label" x={at * across} y={plot.height + 14} text-anchor="middle">{value}</text>)}
        {voltages.map(({ at, value }) => <text key={value} class="density-label" x={-6} y={plot.height - at * up + 4} text-anchor="end">{value}</text>)}
        <text class="density-label" x={plot.width / 2} y={plot.height + 30} text-anchor="middle">{`${say.current}, ${unitOf('current')}`}</text>
        <text class="density-label" transform={`translate(${12 - plot.left}, ${plot.height / 2}) rotate(-90)`} text-anchor="middle">{`${say.voltage}, ${unitOf('voltage')}`}</text>
      </g>
    </svg>
  );
}
