import type { Trace } from '../../shared/api-types/trace.js';
import { writeAddress } from '../shared/address.js';

/** The axes of the API, and mm travelled in degrees of a circumferential seam. */
export type Axis = Trace['axis'] | 'degrees';

/** Which part of a run's traces is shown, and over which axis: s from its start, mm, or degrees. Open ends are null. */
export interface RunView {
  readonly axis: Axis;
  readonly from: number | null;
  readonly to: number | null;
  /** Id of the run drawn over it for comparison. */
  readonly compared: string | null;
}

/** A place of the cursor; it has no meaning on another axis. */
export interface CursorPlace { readonly axis: Axis; readonly at: number }

/** The view of an address; a run that is not `round` has none in degrees. */
export function readView(query: URLSearchParams, round = true): RunView {
  const axis = query.get('axis');
  if (axis === 'degrees' && !round) return { axis: 'travelled', from: null, to: null, compared: query.get('with') };
  const [from, to] = [numberOf(query.get('from')), numberOf(query.get('to'))];
  const swapped = from !== null && to !== null && from > to;
  return {
    axis: axis === 'travelled' || axis === 'seamPosition' || axis === 'degrees' ? axis : 'time',
    from: swapped ? to : from,
    to: swapped ? from : to,
    compared: query.get('with'),
  };
}

/** The address of a run's page with that view; ends are cut to 1 ms or 1 µm, finer than any row. */
export function viewAddress(id: string, { axis, from, to, compared }: RunView): string {
  return writeAddress(['run', id], { axis: axis === 'time' ? null : axis, from: cut(from), to: cut(to), with: compared });
}

function numberOf(text: string | null): number | null {
  if (text === null || text.trim() === '') return null;
  const value = Number(text);
  return Number.isFinite(value) && Math.abs(value) <= 1e9 ? value : null;
}

function cut(value: number | null): number | null {
  return value === null ? null : Number(value.toFixed(3));
}
