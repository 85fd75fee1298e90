import { useEffect } from 'preact/hooks';
import { opened } from '../shared/live-feed.js';

/** A monitor that nobody touches would show the pages of an earlier version for ever, so after each reconnection it checks for newer ones. */
export function useNewPages(): void {
  const times = opened.value;
  useEffect(() => {
    // The first connection is that of the page just loaded.
    if (times < 2) return;
    void reloadWhereNew();
  }, [times]);
}

async function reloadWhereNew(): Promise<void> {
  const own = document.querySelector<HTMLScriptElement>('script[type="module"][src]')?.getAttribute('src');
  if (own === null || own === undefined) return;
  try {
    const answer = await fetch('./', { cache: 'no-store', headers: { accept: 'text/html' } });
    if (!answer.ok) return;
    const found = new DOMParser().parseFromString(await answer.text(), 'text/html').querySelector('script[type="module"][src]')?.getAttribute('src');
    if (found !== null && found !== undefined && found !== own) window.location.reload();
  } catch {
    // The service was not reached; the next connection tries again.
  }
}
