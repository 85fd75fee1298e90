import type { JSX } from 'preact';
import { ConnectionState } from './connection-state.js';
import { PageMenu } from './page-menu.js';
import { sharedWords } from './shared-words.js';
import { wordsOf } from './words.js';

/** The pages that the header leads to, and the pages below each. Refused messages belong to none of them: the shop floor and the menu lead there. */
export const pageLinks = [
  { name: 'floor', href: '#/', below: [''] },
  { name: 'stations', href: '#/station', below: ['station', 'job'] },
  { name: 'runs', href: '#/runs', below: ['run', 'seam'] },
  { name: 'alarms', href: '#/alarms', below: [] },
  { name: 'procedures', href: '#/procedures', below: ['procedure'] },
] as const satisfies readonly { readonly name: string; readonly href: string; readonly below: readonly string[] }[];

export function Header({ page }: { readonly page: string }): JSX.Element {
  return (
    <header class="top">
      <span class="name">Seamwarden</span>
      <PageLinks page={page} />
      <ConnectionState />
      <PageMenu />
    </header>
  );
}

export function PageLinks({ page }: { readonly page: string }): JSX.Element {
  const say = wordsOf(sharedWords);
  return (
    <nav aria-label={say.pages}>
      {pageLinks.map(({ name, href, below }) => {
        const isBelow = (below as readonly string[]).includes(page);
        return (
          <a key={name} href={href} aria-current={page === name || (isBelow && page === '') ? 'page' : isBelow ? 'true' : undefined}>
            {name === 'runs' ? say.runsLabel() : say[name]}
          </a>
        );
      })}
    </nav>
  );
}
