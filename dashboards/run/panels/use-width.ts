import { useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** The width of an element in CSS px, 0 until it is known. */
export function useWidth(): readonly [RefObject<HTMLDivElement>, number] {
  const place = useRef<HTMLDivElement>(null);
  const width = useSignal(0);
  useEffect(() => {
    const element = place.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => {
      width.value = Math.floor(element.clientWidth);
    });
    observer.observe(element);
    return () => {
      observer.disconnect();
    };
  }, []);
  return [place, width.value];
}
