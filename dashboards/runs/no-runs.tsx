import type { JSX } from 'preact';
import { wordsOf } from '../shared/words.js';
import { runsWords } from './runs-words.js';

/** Why the list is empty, and what to do about it. */
export function NoRuns({ filtered }: { readonly filtered: boolean }): JSX.Element {
  const say = wordsOf(runsWords);
  if (filtered) {
    return (
      <section class="empty">
        <h2>{say.nothingFound()}</h2>
        <p>{say.nothingFoundMore} <a href="#/runs">{say.showAll()}</a></p>
      </section>
    );
  }
  return (
    <section class="empty">
      <h2>{say.none()}</h2>
      <p>{say.noneMore()} <code>npx seamwarden import FILE</code></p>
      <p><a href="#/">{say.seeCarriages}</a></p>
    </section>
  );
}
