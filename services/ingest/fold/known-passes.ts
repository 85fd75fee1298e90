/** A seam and the run number of a pass along it. */
export interface Pass {
  readonly seam: string;
  readonly run: number;
}

interface PassedBy {
  readonly stream: number;
  readonly started: number;
}

/** The stored runs of every seam and run number that anything in memory names. They must have been read before. */
export interface KnownPasses {
  has(pass: Pass): boolean;
  put(pass: Pass, runs: readonly (PassedBy & { readonly id: string })[]): void;
  /** Whether all passes of a seam are known: those of a series of turns are not named by anything. */
  hasSeam(seam: string): boolean;
  putSeam(seam: string, runs: readonly (PassedBy & Pick<Pass, 'run'> & { readonly id: string })[]): void;
  /** Notes that a run is stored under the pass `now`, and no longer under `before`. */
  note(id: string, by: PassedBy, before: Pass | null, now: Pass | null): void;
  /** How many other runs of the stream on this pass began before the given one. */
  countBefore(pass: Pass, id: string, by: PassedBy): number;
  /** Whether another stream has a run on this pass. */
  isShared(pass: Pass, stream: number): boolean;
  forgetAll(): void;
}

export function knownPasses(): KnownPasses {
  const known = new Map<string, Map<string, PassedBy>>();
  const seams = new Set<string>();
  const of = (pass: Pass): Map<string, PassedBy> | undefined => {
    const name = `${pass.run} ${pass.seam}`;
    if (seams.has(pass.seam) && !known.has(name)) known.set(name, new Map());
    return known.get(name);
  };
  return {
    hasSeam: (seam) => seams.has(seam),
    putSeam: (seam, runs) => {
      seams.add(seam);
      for (const { id, run, stream, started } of runs) of({ seam, run })?.set(id, { stream, started });
    },
    has: (pass) => of(pass) !== undefined,
    put: (pass, runs) => void known.set(`${pass.run} ${pass.seam}`, new Map(runs.map(({ id, stream, started }) => [id, { stream, started }]))),
    note: (id, { stream, started }, before, now) => {
      if (before !== null && (before.seam !== now?.seam || before.run !== now.run)) of(before)?.delete(id);
      if (now !== null) of(now)?.set(id, { stream, started });
    },
    countBefore: (pass, id, { stream, started }) => {
      let count = 0;
      for (const [other, by] of of(pass) ?? []) if (by.stream === stream && other !== id && by.started < started) count += 1;
      return count;
    },
    isShared: (pass, stream) => {
      for (const by of of(pass)?.values() ?? []) if (by.stream !== stream) return true;
      return false;
    },
    forgetAll: () => {
      known.clear();
      seams.clear();
    },
  };
}
