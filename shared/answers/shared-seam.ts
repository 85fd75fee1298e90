const flag = 'sharedSeam';

/**
 * A record of a run with the flag that tells that another carriage has the same seam and run; without it where none has. Others give and take the
 * flag, so that it is found when a run is answered. Earlier programs stored it.
 */
export function withSharedSeam(record: unknown, isShared: boolean): unknown {
  const own = record as { readonly flags?: readonly string[] };
  if ((own.flags?.includes(flag) ?? false) === isShared) return record;
  const others = (own.flags ?? []).filter((name) => name !== flag);
  return { ...own, flags: isShared ? [...others, flag] : others };
}

/** The same of a record as JSON. */
export function textWithSharedSeam(record: string, isShared: boolean): string {
  if (!isShared && !record.includes(`"${flag}"`)) return record;
  return JSON.stringify(withSharedSeam(JSON.parse(record), isShared));
}
