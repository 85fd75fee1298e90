/** A value for each name; `place` is that of the name. An object of some twenty names that is built key by key would be slow to read. */
export function recordOf<Name extends string, Value>(names: readonly Name[], valueOf: (name: Name, place: number) => Value): Record<Name, Value> {
  return Object.fromEntries(names.map((name, place) => [name, valueOf(name, place)])) as Record<Name, Value>;
}
