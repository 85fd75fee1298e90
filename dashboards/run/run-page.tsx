import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { NotRead } from '../shared/list-parts.js';
import { runSilence } from '../shared/run-silence.js';
import type { AnswerNow } from '../shared/use-answer.js';
import { usePageTitle } from '../shared/use-page-title.js';
import { wordsOf } from '../shared/words.js';
import './details.css';
import './print.css';
import './run.css';
import { RunHeading } from './run-heading.js';
import { RunReview } from './run-review.js';
import { runTitle } from './run-title.js';
import { readView } from './run-view.js';
import { runWords } from './run-words.js';
import { useRun } from './use-run.js';

/** One run: what it came to, how it went, and what is not known of it. */
export function RunPage({ id, query }: { readonly id: string; readonly query: URLSearchParams }): JSX.Element {
  const say = wordsOf(runWords);
  const answer = useRun(id);
  const { value: run, givenAt, change } = answer;
  const view = useMemo(() => readView(query), [query]);
  usePageTitle(run === null ? say.runLabel() : runTitle(run));
  const silence = run === null ? null : runSilence(run);
  if (run === null) return <NoRun of={answer} />;
  return (
    <>
      <RunHeading run={run} givenAt={givenAt} />
      <RunReview run={run} view={view} stale={silence !== null} onRun={(changed) => { change(() => changed); }} />
    </>
  );
}

function NoRun({ of }: { readonly of: AnswerNow<Run> }): JSX.Element {
  const say = wordsOf(runWords);
  const unknown = of.failure?.status === 404;
  return (
    <section class="empty">
      <h1 tabIndex={-1}>{unknown ? say.noSuchRun() : say.runLabel()}</h1>
      {unknown && <p>{say.noSuchRunMore()}</p>}
      {of.failure === null && <p>{say.loading}</p>}
      {!unknown && <NotRead of={of} />}
      <p><a href="#/runs">{say.seeAll()}</a></p>
    </section>
  );
}
