import type { JSX } from 'preact';
import { health } from './health.js';
import { feed } from './live-feed.js';
import { Mark } from './mark.js';
import type { MarkName } from './mark-name.js';
import { sharedWords } from './shared-words.js';

/** Whether what is shown follows the service, in two words and a shape. */
export function ConnectionState(): JSX.Element {
  const [mark, text] = connectionWords();
  return <p class="connection"><Mark name={mark} /> {text}</p>;
}

function connectionWords(): readonly [MarkName, string] {
  const say = sharedWords();
  // An open feed is newer than the missing answer, so the two never contradict each other.
  if (feed.value.is === 'lost' || (health.value.is === 'unreachable' && feed.value.is !== 'open')) return ['crossed', say.notConnected];
  if (health.value.is === 'failing') return ['warning', say.connectedWithFault];
  return feed.value.is === 'open' ? ['full', say.connected] : ['empty', say.connecting];
}
