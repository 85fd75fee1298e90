import { signal } from '@preact/signals';

/** Key of the figure whose origin is shown, or null. */
export const openFigure = signal<string | null>(null);
