import type { JSX } from 'preact';
import { procedureWords } from './procedure-words.js';

export interface Part {
  readonly id: string;
  readonly name: string;
  /** Parts within the one before. */
  readonly below?: boolean;
}

/** Leads to the headings of a long page. These are not links, because the part of the address behind # names the page. */
export function Contents({ parts }: { readonly parts: readonly Part[] }): JSX.Element {
  const say = procedureWords();
  return (
    <nav class="contents" aria-label={say.onThisPage}>
      <h2>{say.onThisPage}</h2>
      <ul>
        {parts.map(({ id, name, below = false }) => (
          <li key={id} class={below ? 'below' : undefined}>
            <button type="button" class="link" onClick={() => { goToPart(id); }}>{name}</button>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function goToPart(id: string): void {
  const heading = document.getElementById(id);
  heading?.scrollIntoView({ block: 'start' });
  heading?.focus({ preventScroll: true });
}

/** Ids of the headings that the contents list leads to. */
export const partIds = { general: 'part-general', material: 'part-material', groups: 'part-groups', alarms: 'part-alarms', save: 'part-save', compare: 'part-compare', revisions: 'part-revisions' } as const;

export function groupPart(at: number): string {
  return `part-group-${at + 1}`;
}
