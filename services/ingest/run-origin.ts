import type { Run } from '../../shared/api-types/run.js';
import { isoTime } from '../../shared/weld/run-figures.js';
import type { FoldDeps } from './fold-deps.js';
import type { StreamState } from './stream-state.js';

/** Where the items of a stream came from; of a log that was imported before that was noted nothing more is known. */
export function originOf(stream: StreamState, { statements }: Pick<FoldDeps, 'statements'>): Run['origin'] {
  if (stream.stream === '') return { kind: 'live', file: null, at: null, by: null };
  const row = statements.importOf.get(stream.id);
  return { kind: 'log', file: row?.file ?? null, at: row === undefined ? null : isoTime(row.at), by: row?.by ?? null };
}

/** Notes where a log came from. The first time counts: importing it again adds nothing. */
export function noteOrigin(stream: StreamState, { file, by }: { readonly file: string | null; readonly by: string | null }, { statements, now }: FoldDeps): void {
  if (stream.runs.size === 0) statements.addImport.run(stream.id, now(), file, by);
}
