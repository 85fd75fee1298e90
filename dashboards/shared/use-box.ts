import { useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';

interface Box { readonly width: number; readonly height: number }

/** Size of an element in CSS px as it changes; 0 until it was measured. */
export function useBox<T extends HTMLElement>(): { readonly box: Box; readonly place: RefObject<T> } {
  const place = useRef<T>(null);
  const box = useSignal<Box>({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = place.current;
    if (element === null) return undefined;
    const measure = (): void => {
      const { clientWidth: width, clientHeight: height } = element;
      if (width !== box.peek().width || height !== box.peek().height) box.value = { width, height };
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => { observer.disconnect(); };
  }, [box]);
  return { box: box.value, place };
}
