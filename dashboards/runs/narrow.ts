import { signal } from '@preact/signals';

/** As wide as a list that stands in cards at most; the style sheet of the list has the same width. */
const query = window.matchMedia('(max-width: 48rem)');

/** Whether the screen is a narrow one, such as that of a telephone. */
export const narrow = signal(query.matches);

query.addEventListener('change', () => {
  narrow.value = query.matches;
});
