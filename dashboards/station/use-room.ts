import { useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Box } from '../shared/use-box.js';

/** The room that an element has, whether or not its content fits; 0 until it has been measured. It is measured on each drawing, which happens several times a second while values arrive. */
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
