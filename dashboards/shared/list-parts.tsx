import type { ComponentChildren, JSX } from 'preact';
import type { Identified } from './listed.js';
import type { AnswerNow } from './use-answer.js';
import type { PagedList } from './use-paged-list.js';
import { commonWords } from './common-words.js';

/** Why something could not be read, with a button to try again; nothing if it could. */
export function NotRead({ of: { failure, asking, again } }: { readonly of: Pick<AnswerNow<unknown>, 'failure' | 'asking' | 'again'> }): JSX.Element | null {
  if (failure === null) return null;
  return (
    <p class="empty">
      {failure.reason}{' '}
      {/* Pressed once more it waits; a button that is switched off would lose the focus. */}
      <button type="button" aria-disabled={asking} onClick={() => { if (!asking) again(); }}>{commonWords().retry}</button>
    </p>
  );
}

/** A button for the next page of a list, as long as there is one. */
export function MoreButton<T extends Identified>({ list: { hasMore, readingMore, more }, children }: { readonly list: PagedList<T>; readonly children: ComponentChildren }): JSX.Element | null {
  if (!hasMore) return null;
  return <p><button type="button" aria-disabled={readingMore} onClick={more}>{children}</button></p>;
}

/** Says that a list is empty, and what to do about it. */
export function EmptyList({ title, children }: { readonly title: string; readonly children: ComponentChildren }): JSX.Element {
  return <section class="empty"><h2>{title}</h2>{children}</section>;
}

interface Heading { readonly name: string; readonly number?: boolean; readonly unit?: string }

/** The headings of a table's columns; nothing stands over a column of buttons, whose name is empty. */
export function TableHead({ columns }: { readonly columns: readonly (string | Heading)[] }): JSX.Element {
  const headings = columns.map((own): Heading => (typeof own === 'string' ? { name: own } : own));
  return (
    <thead>
      <tr>
        {headings.map(({ name, number = false, unit }) => (
          name === '' ? <td key={name} /> : <th key={name} scope="col" class={number ? 'number' : undefined}>{name}{unit !== undefined && <> <span class="unit">{unit}</span></>}</th>
        ))}
      </tr>
    </thead>
  );
}
