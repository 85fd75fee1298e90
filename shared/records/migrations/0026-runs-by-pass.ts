/** Runs along one seam under one number: whether more than one carriage has them is asked of each run that is answered. */
export const runsByPass: readonly string[] = ['CREATE INDEX runs_by_pass ON runs (seam, run, stream_id) WHERE seam IS NOT NULL'];
