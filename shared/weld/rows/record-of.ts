/** A value for each name. */
export function recordOf<Name extends string, Value>(names: readonly Name[], valueOf: (name: Name) => Value): Record<Name, Value> {
  const record: Partial<Record<Name, Value>> = {};
  for (const name of names) record[name] = valueOf(name);
  return record as Record<Name, Value>;
}
