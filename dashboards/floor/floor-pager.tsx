import type { JSX } from 'preact';
import { wordsOf } from '../shared/words.js';
import type { FloorPages } from './floor-pages.js';
import { floorWords } from './floor-words.js';
import { isKiosk } from './kiosk.js';
import type { Paging } from './use-paging.js';

/** Says that the carriages do not fit on one page, which page is shown, and when the next one comes. */
export function FloorPager({ paging, shown }: { readonly paging: Paging; readonly shown: FloorPages }): JSX.Element {
  const say = wordsOf(floorWords);
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
