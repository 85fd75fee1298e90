import { useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { paperTraceHeight, paperWidth, printing } from './printing.js';
import { axisRem, laneRem, remSize } from './type-scale.js';

/** Height of a trace's heading, and how high its drawing is at least and at most; rem. */
const headingRem = 1.375;
const [lowest, highest] = [3.75, 22] as const;

/** Width of an element (0 until it is known), and where on the page it begins; CSS px. */
export function useSize(): readonly [RefObject<HTMLDivElement>, number, number] {
  const place = useRef<HTMLDivElement>(null);
  const width = useSignal(0);
  const top = useSignal(0);
  useEffect(() => {
    const element = place.current;
    if (element === null) return;
    const measure = (): void => {
      width.value = Math.floor(element.clientWidth);
      top.value = Math.round(element.getBoundingClientRect().top + window.scrollY);
    };
    // The content above it arrives piece by piece.
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    observer.observe(document.body);
    window.addEventListener('resize', measure);
    return () => {
      observer.disconnect();
      window.removeEventListener('resize', measure);
    };
  }, []);
  return [place, printing.value && width.value > 0 ? paperWidth : width.value, top.value];
}

/** The height of a drawing at which so many traces fit the screen, below so many lanes and what is above them; CSS px. */
export function traceHeight(top: number, lanes: number, traces: number): number {
  if (printing.value) return paperTraceHeight;
  const rem = remSize();
  const free = window.innerHeight - top - lanes * laneRem * rem - axisRem * rem - traces * headingRem * rem - 0.5 * rem;
  return Math.floor(Math.min(highest * rem, Math.max(lowest * rem, free / traces)));
}
