import type { Run } from '../../shared/api-types/run.js';

/** Which runs are listed, as the address says it; empty text filters nothing. */
export interface RunFilter {
  readonly state: '' | 'welding' | 'finished';
  readonly seam: string;
  readonly carriage: string;
}

export function readFilter(query: URLSearchParams): RunFilter {
  const state = query.get('state');
  return {
    state: state === 'welding' || state === 'finished' ? state : '',
    seam: query.get('seam') ?? '',
    carriage: query.get('carriage') ?? '',
  };
}

export function isFiltered(filter: RunFilter): boolean {
  return filter.state !== '' || filter.seam !== '' || filter.carriage !== '';
}

/** Whether the list of that filter holds the run. */
export function fits(filter: RunFilter, run: Pick<Run, 'state' | 'seam' | 'carriage'>): boolean {
  return (
    (filter.state === '' || filter.state === run.state) &&
    (filter.seam === '' || filter.seam === run.seam) &&
    (filter.carriage === '' || filter.carriage === run.carriage)
  );
}

/**
 * The list after a run has changed: replaced where it stands, taken out where it fits no more, put in by its start where it is new.
 * A run older than the last one listed waits for its page, unless there is none.
 */
export function withRun(runs: readonly Run[], run: Run, filter: RunFilter, hasMore: boolean): readonly Run[] {
  const at = runs.findIndex((own) => own.id === run.id);
  if (!fits(filter, run)) return at < 0 ? runs : runs.filter((own) => own.id !== run.id);
  if (at >= 0) return runs.with(at, run);
  const place = runs.findIndex((own) => own.startedAt <= run.startedAt);
  if (place >= 0) return runs.toSpliced(place, 0, run);
  return hasMore ? runs : [...runs, run];
}
