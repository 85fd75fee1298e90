import { signal } from '@preact/signals';

/** The greatest width at which a list is shown as cards; the style sheet of the list has the same width. */
const query = window.matchMedia('(max-width: 48rem)');

/** Whether the screen is narrow, such as that of a telephone. */
export const narrow = signal(query.matches);

query.addEventListener('change', () => {
  narrow.value = query.matches;
});
