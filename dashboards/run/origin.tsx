import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { formatDateTime } from '../shared/times.js';
import { clockWords, identityWords, methodWords } from './run-words.js';

/** Where the figures come from: formula, method, and how far the data behind them can be trusted. */
export function Origin({ run }: { readonly run: Run }): JSX.Element {
  const facts: (readonly [string, string])[] = [
    ['Heat input', 'thermal efficiency × arc energy (EN 1011-1); arc energy: the energy of each arc over the length of that arc, added over the arcs'],
    ['Method', methodWords[run.method]],
    ['Data', run.complete ? 'complete' : 'not complete: a gap, a missing message, or no times from the carriage'],
    ['Clock', clockWords[run.clock]],
    ['Repeats told apart by', identityWords[run.identity]],
    ['Version', run.revisedAt === null ? String(run.version) : `${run.version}, revised ${formatDateTime(run.revisedAt)}`],
    ['Run id', run.id],
  ];
  const missing = Object.entries(run.absent);
  return (
    <section>
      <h2>Where it comes from</h2>
      <dl class="facts">
        {facts.map(([label, value]) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <h3>What is absent, and why</h3>
      {missing.length === 0 ? (
        <p class="none">Nothing that concerns the whole run.</p>
      ) : (
        <dl class="facts">
          {missing.map(([name, why]) => (
            <div key={name}>
              <dt>
                <code>{name}</code>
              </dt>
              <dd>{why}</dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  );
}
