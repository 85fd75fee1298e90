import type { Run } from '../../../shared/api-types/run.js';
import { isoTime } from '../../../shared/weld/run/run-figures.js';
import type { Carriage } from './carriage.js';

/** Where the items of a stream came from. Logs imported before this was recorded have no further details. */
export function originOf({ kind, intake: { origin } }: Pick<Carriage, 'kind' | 'intake'>): Run['origin'] {
  if (kind === 'live') return { kind, file: null, at: null, by: null };
  return { kind, file: origin?.file ?? null, at: origin === null ? null : isoTime(origin.at), by: origin?.by ?? null };
}
