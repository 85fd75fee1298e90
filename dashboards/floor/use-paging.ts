import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { now } from '../shared/now.js';

export interface Paging {
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
