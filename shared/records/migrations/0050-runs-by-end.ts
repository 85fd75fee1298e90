/** Finished runs of one procedure in the order in which they ended, for capability. A run that is being welded is not in it, so that it costs nothing while a run goes on. */
export const runsByEnd: readonly string[] = ['CREATE INDEX runs_by_end ON runs (procedure, ended, id) WHERE procedure IS NOT NULL AND ended IS NOT NULL'];
