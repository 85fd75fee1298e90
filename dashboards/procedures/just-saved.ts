import { signal } from '@preact/signals';
import type { Procedure } from '../../shared/api-types/procedure.js';

/** What was saved last: told on the page of that very revision, and gone with it. */
export const justSaved = signal<Procedure | null>(null);
