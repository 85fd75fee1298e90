import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { now } from '../shared/now.js';
import type { FloorPages } from './floor-pages.js';
import { floorWords } from './floor-words.js';
import { isKiosk } from './floor-state.js';

/** Says that the carriages do not fit on one page, which page is shown, and when the next one comes. */
export function FloorPager({ paging, shown }: { readonly paging: Paging; readonly shown: FloorPages }): JSX.Element {
  const say = floorWords();
  return (
    <div class="floor-pager">
      <p><strong>{say.page(shown.page + 1, shown.pages)}</strong> {paging.held ? say.held : say.nextIn(paging.left)} {say.tooMany}</p>
      {!isKiosk.value && (
        <>
          <button type="button" onClick={() => { paging.step(-1); }}>{say.previous}</button>
          <button type="button" onClick={paging.hold}>{paging.held ? say.goOn : say.hold}</button>
          <button type="button" onClick={() => { paging.step(1); }}>{say.next}</button>
        </>
      )}
    </div>
  );
}

interface Paging {
  /** Counts on without end, also below 0; the caller, who knows how many pages there are, maps it to one. */
  readonly page: number;
  readonly held: boolean;
  /** s until the next page. */
  readonly left: number;
  readonly step: (by: 1 | -1) => void;
  readonly hold: () => void;
}

/** Long enough to look over a wall of carriages, ms; common practice, no source. */
const turnEvery = 20_000;

/** Turns pages automatically while there are several. A person who turns a page stops this, and can resume it (WCAG 2.2, 2.2.2). */
export function usePaging(several: boolean): Paging {
  const page = useSignal(0);
  const held = useSignal(false);
  const since = useSignal(Date.now());
  const age = several && !held.value ? now.value - since.value : 0;
  const due = age >= turnEvery;
  useEffect(() => {
    if (!due) return;
    page.value += 1;
    since.value = Date.now();
  }, [due, page, since]);
  return {
    page: page.value,
    held: held.value,
    left: Math.max(0, Math.ceil((turnEvery - age) / 1000)),
    step: (by) => {
      page.value += by;
      held.value = true;
    },
    hold: () => {
      held.value = !held.value;
      since.value = Date.now();
    },
  };
}
