import type { JSX } from 'preact';
import { noValue } from './format.js';

/** A value as text; where it is too old it is struck through, and read out as old. Its unit stands beside it. */
export function Reading({ text, stale }: { readonly text: string; readonly stale: boolean }): JSX.Element {
  if (text === noValue) {
    return (
      <span class="none">
        <span aria-hidden="true">{noValue}</span>
        <span class="unseen">not known</span>
      </span>
    );
  }
  if (!stale) return <span>{text}</span>;
  return (
    <s>
      <span class="unseen">old: </span>
      {text}
    </s>
  );
}
