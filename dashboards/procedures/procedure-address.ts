import type { Procedure } from '../../shared/api-types/procedure.js';
import { writeAddress } from '../shared/address.js';

/** The page of a procedure. `#/procedure/new` without more is the form for a new one, so one of that name is always named with a revision. */
export function procedureAddress(id: string, query: { readonly revision?: number | null; readonly against?: number | null; readonly edit?: 'yes' } = {}): string {
  return writeAddress(['procedure', id], query);
}

/** The page of a procedure's newest revision. */
export function newestAddress({ id, revision }: Pick<Procedure, 'id' | 'revision'>): string {
  return procedureAddress(id, { revision: id === 'new' ? revision : null });
}

/** The address of the form that begins as a copy of a revision. */
export function copyAddress(id: string, revision: number): string {
  return writeAddress(['procedure'], { from: id, revision });
}
