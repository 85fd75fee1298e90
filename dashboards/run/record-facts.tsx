import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { formatDateTime } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { absentText } from './figures/absent-text.js';
import { figureWords } from './figures/figure-words.js';
import { originText } from './origin-text.js';
import { runWords } from './run-words.js';

/** How far the data behind the figures can be trusted, and what is absent of the whole run and why. */
export function RecordFacts({ run }: { readonly run: Run }): JSX.Element {
  const say = wordsOf(runWords);
  const figure = wordsOf(figureWords);
  const clock = run.clock === 'arrival' ? say.arrival() : say[run.clock];
  const identity = { full: say.full, time: say.byTime, none: say.byNothing }[run.identity];
  const facts: (readonly [string, string])[] = [
    [say.origin, originText(run)],
    [say.method, say[run.method]],
    [say.data, run.complete ? say.complete : say.incompleteWhy],
    [say.clock, clock],
    ...(run.origin.kind === 'live' ? [[say.identity, identity] as const] : []),
    [say.versionRow, run.revisedAt === null ? String(run.version) : say.revised(run.version, formatDateTime(run.revisedAt))],
    [say.id(), run.id],
  ];
  const missing = Object.entries(run.absent);
  return (
    <section id="record" tabIndex={-1}>
      <h2>{say.record}</h2>
      <dl class="run-facts">
        {facts.map(([label, value]) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{value}</dd>
          </div>
        ))}
        <div>
          <dt>{say.asJson}</dt>
          <dd>
            <a href={`api/runs/${encodeURIComponent(run.id)}`}>/api/runs/{run.id}</a>
          </dd>
        </div>
      </dl>
      <h3>{figure.absent}</h3>
      {missing.length === 0 ? (
        <p class="none">{figure.nothingAbsent()}</p>
      ) : (
        <dl class="run-facts">
          {missing.map(([name, why]) => (
            <div key={name}>
              <dt>
                <code>{name}</code>
              </dt>
              <dd>{absentText(why)}</dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  );
}
