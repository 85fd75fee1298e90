/** The order of the list of runs, with the names that are searched: a search skips rows that do not match within the index alone. */
export const runSearch: readonly string[] = ['DROP INDEX runs_by_start', 'CREATE INDEX runs_by_start ON runs (started DESC, id DESC, seam, carriage)'];
