import type { ComponentChildren, JSX } from 'preact';
import { usePageTitle } from './use-page-title.js';

interface PageHeadingParts {
  readonly title: string;
  /** The name of the browser tab, where it differs from the title. */
  readonly tab?: string;
  /** A quiet line beside the title. */
  readonly aside?: string;
  readonly children?: ComponentChildren;
}

/** The heading of a page; it also names the browser tab. */
export function PageHeading({ title, tab = title, aside, children }: PageHeadingParts): JSX.Element {
  usePageTitle(tab);
  return (
    <div class="heading">
      <h1 tabIndex={-1}>{title}</h1>
      {aside !== undefined && <p class="aside">{aside}</p>}
      {children}
    </div>
  );
}
