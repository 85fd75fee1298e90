/**
 * The messages of a stream that are committed together stand in one row: `id` is the number of the last, `first` that of
 * the first. A row without `first` is one message, as all were until here.
 */
export const keptPacks: readonly string[] = ['ALTER TABLE kept ADD COLUMN first INTEGER'];
