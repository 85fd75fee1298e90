/**
 * The messages of a stream that are committed together are in one row: `id` is the number of the last, `first` that of
 * the first. A row without `first` is a single message, as all were before this version.
 */
export const keptPacks: readonly string[] = ['ALTER TABLE kept ADD COLUMN first INTEGER'];
