import { useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Box } from '../shared/use-box.js';

/** The room that an element has, whether what is in it fits or not; 0 until it was measured. Measured with each drawing, which happens several times a second while values come. */
export function useRoom<T extends HTMLElement>(): { readonly room: Box; readonly place: RefObject<T> } {
  const place = useRef<T>(null);
  const room = useSignal<Box>({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = place.current;
    if (element === null) return;
    const measured = { width: element.clientWidth, height: element.clientHeight };
    if (measured.width !== room.peek().width || measured.height !== room.peek().height) room.value = measured;
  });
  return { room: room.value, place };
}
