import { signal } from '@preact/signals';
import { options } from 'preact';

/** Whether the page is currently laid out for paper. */
export const printing = signal(false);

/** Width of A4 within its margins of 12 mm, and height of a trace on it, CSS px (96 to the inch). */
export const paperWidth = 703;
export const paperTraceHeight = 96;

/**
 * Redraws everything for paper before the browser takes the page, as drawings for a screen are too wide and may be dark. The browser does not wait, so they are redrawn at once.
 */
export function followPrinting(): void {
  window.addEventListener('beforeprint', () => { drawFor(true); });
  window.addEventListener('afterprint', () => { drawFor(false); });
}

function drawFor(paper: boolean): void {
  const how: { debounceRendering?: (render: () => void) => void } = options;
  const usual = how.debounceRendering;
  how.debounceRendering = (render) => { render(); };
  document.documentElement.toggleAttribute('data-printing', paper);
  printing.value = paper;
  if (usual === undefined) delete how.debounceRendering;
  else how.debounceRendering = usual;
}
