import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { FactList, type Fact } from '../shared/fact-list.js';
import { formatDateTime } from '../shared/times.js';
import { originText, sensorsText } from './run-text.js';
import { runWords } from './run-words.js';

/** Where the data behind the figures came from, and how far it can be trusted. */
export function RecordFacts({ run }: { readonly run: Run }): JSX.Element {
  const say = runWords();
  const clock = run.clock === 'arrival' ? say.arrival() : say[run.clock];
  const identity = { full: say.full, time: say.byTime, none: say.byNothing }[run.identity];
  const facts: Fact[] = [
    [say.origin, originText(run)],
    [say.sensors, sensorsText(run)],
    [say.method, say[run.method]],
    [say.data, run.complete ? say.complete : say.incompleteWhy],
    [say.clock, clock],
    ...(run.origin.kind === 'live' ? [[say.identity, identity] as const] : []),
    [say.versionRow, run.revisedAt === null ? String(run.version) : say.revised(run.version, formatDateTime(run.revisedAt))],
    [say.id(), run.id],
    [say.asJson, <a href={`api/runs/${encodeURIComponent(run.id)}`}>/api/runs/{run.id}</a>],
  ];
  return <section id="record" tabIndex={-1}><h2>{say.record}</h2><FactList look="run-facts" facts={facts} /></section>;
}
