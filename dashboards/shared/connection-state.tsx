import type { JSX } from 'preact';
import { health } from './health.js';
import { feed } from './live-feed.js';
import { Mark } from './mark.js';
import type { MarkName } from './mark-name.js';

/** Whether what is shown follows the service, in two words and a shape. */
export function ConnectionState(): JSX.Element {
  const [mark, text] = connectionWords();
  return (
    <p class="connection">
      <Mark name={mark} /> {text}
    </p>
  );
}

function connectionWords(): readonly [MarkName, string] {
  if (health.value.is === 'unreachable' || feed.value.is === 'lost') return ['crossed', 'Not connected'];
  if (health.value.is === 'failing') return ['warning', 'Connected, with a fault'];
  return feed.value.is === 'open' ? ['full', 'Connected'] : ['empty', 'Connecting'];
}
