import type { JSX } from 'preact';
import { noValue } from './format.js';
import { sharedWords } from './shared-words.js';
import { wordsOf } from './words.js';

/** A value as text. A value that is too old is struck through, and read out as old. Its unit is shown beside it. */
export function Reading({ text, stale }: { readonly text: string; readonly stale: boolean }): JSX.Element {
  const say = wordsOf(sharedWords);
  if (text === noValue) {
    return (
      <span class="none">
        <span aria-hidden="true">{noValue}</span>
        <span class="unseen">{say.notKnown}</span>
      </span>
    );
  }
  if (!stale) return <span>{text}</span>;
  return (
    <s>
      <span class="unseen">{say.oldReading}</span>
      {text}
    </s>
  );
}
