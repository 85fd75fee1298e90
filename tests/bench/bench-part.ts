/** What a part of the bench is given. */
export interface BenchOptions {
  /** How often each side of a comparison is measured, in turns. */
  readonly rounds: number;
  /** Counts and times are multiplied by this: under 1 only for trying the bench itself. */
  readonly scale: number;
  /** Parts that take long to prepare do so. */
  readonly large: boolean;
  /** Shows how far it is; goes to stderr, so that stdout holds the tables alone. */
  readonly say: (text: string) => void;
}

/** One table of the results. */
export interface BenchTable {
  readonly title: string;
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** What was done, and what has to be known to read the figures. */
  readonly notes: readonly string[];
}

export type BenchPart = (options: BenchOptions) => Promise<readonly BenchTable[]>;

/** A count of messages or the like, scaled. */
export function scaled(count: number, { scale }: Pick<BenchOptions, 'scale'>): number {
  return Math.max(10, Math.round((count * scale) / 10) * 10);
}
