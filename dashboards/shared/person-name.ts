import { signal } from '@preact/signals';

/** The name that was given last, until the page is loaded anew: a browser in a shop belongs to nobody in particular. */
export const personName = signal('');
