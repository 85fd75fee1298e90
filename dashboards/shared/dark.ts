import { signal } from '@preact/signals';

const query = window.matchMedia('(prefers-color-scheme: dark)');

/** Whether the system asks for dark surfaces; what is drawn on a canvas is drawn anew when that changes. */
export const dark = signal(query.matches);

query.addEventListener('change', () => {
  dark.value = query.matches;
});
