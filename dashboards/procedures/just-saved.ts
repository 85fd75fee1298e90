import { signal } from '@preact/signals';
import type { Procedure } from '../../shared/api-types/procedure.js';

/** The revision that was saved last; the page of that revision says so until it is left. */
export const justSaved = signal<Procedure | null>(null);
