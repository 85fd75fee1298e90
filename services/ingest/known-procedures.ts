/** A revision as it was read; its body throws an error of damage where that is other than it was written. */
export interface KnownRevision {
  readonly revision: number;
  readonly body: () => string;
}

/** The procedures that anything at hand names, as they are stored. They were read before: what is not at hand does not exist. */
export interface KnownProcedures {
  has(name: string): boolean;
  /** All revisions of a procedure in order, none where there is none of that name. */
  put(name: string, revisions: readonly KnownRevision[]): void;
  add(name: string, revision: number, body: string): void;
  newest(name: string): number | null;
  body(name: string, revision: number): string | null;
  forgetAll(): void;
}

export function knownProcedures(): KnownProcedures {
  const known = new Map<string, readonly KnownRevision[]>();
  return {
    has: (name) => known.has(name),
    put: (name, revisions) => void known.set(name, revisions),
    add: (name, revision, body) => void known.set(name, [...(known.get(name) ?? []), { revision, body: () => body }]),
    newest: (name) => {
      const last = known.get(name)?.at(-1);
      last?.body();
      return last?.revision ?? null;
    },
    body: (name, revision) => known.get(name)?.find((own) => own.revision === revision)?.body() ?? null,
    forgetAll: () => {
      known.clear();
    },
  };
}
