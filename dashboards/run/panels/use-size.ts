import { useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { remSize } from './type-scale.js';

/** What the page has above and below the four traces, and how high a trace is at least and at most; rem. */
const besides = 32;
const [lowest, highest] = [5.25, 22] as const;

/** Width of an element (0 until it is known), and the height of a trace so that all four fit a screen which is high enough; CSS px. */
export function useSize(): readonly [RefObject<HTMLDivElement>, number, number] {
  const place = useRef<HTMLDivElement>(null);
  const width = useSignal(0);
  const height = useSignal(traceHeight());
  useEffect(() => {
    const element = place.current;
    if (element === null) return;
    const measure = (): void => {
      width.value = Math.floor(element.clientWidth);
      height.value = traceHeight();
    };
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    window.addEventListener('resize', measure);
    return () => {
      observer.disconnect();
      window.removeEventListener('resize', measure);
    };
  }, []);
  return [place, width.value, height.value];
}

function traceHeight(): number {
  const rem = remSize();
  return Math.round(Math.min(highest * rem, Math.max(lowest * rem, (window.innerHeight - besides * rem) / 4)));
}
