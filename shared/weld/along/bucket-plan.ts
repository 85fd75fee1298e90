/** First and last index, both included. */
export interface IndexRange {
  readonly first: number;
  readonly last: number;
}

/** Which rows go into which bucket. */
export interface BucketPlan {
  /** Index of the first row that can fall into each bucket. */
  readonly starts: readonly number[];
  bucketOf(index: number): number | undefined;
}

/**
 * At most `points` buckets over a range of row indexes. `indexes` lists the rows if there are at most `points` of them: each row is then its own
 * bucket, with one empty bucket for each hole between rows. If the holes make that more than `points`, or if there are too many rows (null), all
 * buckets have the same width.
 */
export function bucketPlan(range: IndexRange, points: number, indexes: readonly number[] | null): BucketPlan {
  const span = Math.max(0, range.last - range.first + 1);
  const width = Math.max(1, Math.ceil(span / points));
  if (width > 1 && indexes !== null) {
    const starts: number[] = [];
    for (const index of indexes) {
      const last = starts.at(-1);
      if (last !== undefined && index > last + 1) starts.push(last + 1);
      starts.push(index);
    }
    if (starts.length <= points) {
      const numbers = new Map(starts.map((index, number) => [index, number]));
      return { starts, bucketOf: (index) => numbers.get(index) };
    }
  }
  const count = Math.ceil(span / width);
  const starts = Array.from({ length: count }, (_, number) => range.first + number * width);
  return {
    starts,
    bucketOf: (index) => (index < range.first || index > range.last ? undefined : Math.floor((index - range.first) / width)),
  };
}
