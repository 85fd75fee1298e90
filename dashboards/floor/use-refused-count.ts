import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { fetchRefused } from '../shared/api.js';
import { opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';

const every = 15_000;
/** How far back refused messages still concern somebody, ms; common practice, no source. */
const concernFor = 86_400_000;

/** How many messages were refused in the last 24 h. */
export function useRefusedCount(): number {
  const count = useSignal(0);
  const times = opened.value;
  useEffect(() => {
    let stopped = false;
    const ask = async (): Promise<void> => {
      const answer = await fetchRefused({ since: new Date(serverNow.peek() - concernFor).toISOString(), limit: 1 });
      if (!stopped && answer.ok) count.value = answer.value.total;
    };
    void ask();
    const timer = setInterval(() => void ask(), every);
    return () => {
      stopped = true;
      clearInterval(timer);
    };
  }, [times]);
  return count.value;
}
