import type { JSX } from 'preact';
import { figureWords } from './figures/figure-words.js';
import { markWords } from './marks/mark-words.js';
import { panelWords } from './panels/panel-words.js';
import { runWords } from './run-words.js';

/** Links to the parts of a long page, and its exports. */
export function RunTools({ id }: { readonly id: string }): JSX.Element {
  const say = runWords();
  const parts: readonly (readonly [string, string])[] = [
    ['traces', panelWords().traces],
    ['events', markWords().events],
    ['figures', figureWords().ofRun()],
    ['job', say.assignment],
    ['record', say.record],
  ];
  const path = `api/runs/${encodeURIComponent(id)}`;
  return (
    <div class="run-tools">
      <nav aria-label={say.jump}>
        <span class="aside">{say.jump}</span>
        {parts.map(([place, name]) => (
          <button key={place} type="button" class="figure-name" onClick={() => { jumpTo(place); }}>{name}</button>
        ))}
      </nav>
      <button type="button" class="small" onClick={() => { window.print(); }}>{say.print}</button>
      <details class="menu">
        <summary>{say.export}</summary>
        <ul>
          <li><a href={`${path}/trace?format=csv&judged=true&points=20000`} download>{say.csvTrace}</a></li>
          <li><a href={`${path}/profile?format=csv`} download>{say.csvProfile}</a></li>
          <li><a href={`${path}/excursions?format=csv`} download>{say.csvExcursions}</a></li>
          <li><a href={path}>{say.asJson}</a></li>
        </ul>
      </details>
    </div>
  );
}

/** Brings a part of the page into sight and the focus to it: the part of the address behind # is the page's here. */
export function jumpTo(place: string): void {
  const part = document.getElementById(place);
  part?.scrollIntoView({ block: 'start' });
  part?.focus({ preventScroll: true });
}
