/**
 * The shape of plain data: for every place, the keys that occur there and the kinds of their values. A place is named by the two keys that lead to
 * it, so that the same part has one shape wherever it hangs; the elements of lists, and values under numeric keys (arcs), belong to the place of
 * their list.
 */
export type StateShape = Map<string, Map<string, Set<string>>>;

/** Replaces the numbers of elements and arcs. */
const element = '*';

/** Adds a value and everything in it to a shape (in place). */
export function noteShape(shape: StateShape, value: object, parent = '', own = 'state'): void {
  // What the numbers in it mean is known only where they are made.
  if (ArrayBuffer.isView(value)) return;
  const name = `${parent}.${own}`;
  const keys = shape.get(name) ?? new Map<string, Set<string>>();
  shape.set(name, keys);
  if (Array.isArray(value)) {
    let last = '';
    for (const one of value as unknown[]) {
      const kind = typeof one;
      // The long lists contain numbers.
      if (kind === last && kind !== 'object') continue;
      last = kind;
      noteKind(keys, element, one);
      if (typeof one === 'object' && one !== null) noteShape(shape, one, parent, own);
    }
    return;
  }
  // A start waits for this, and making a list of entries for each part would take most of its time.
  const parts = value as Readonly<Record<string, unknown>>;
  for (const key in parts) {
    const held = parts[key];
    const isOneOfMany = isNumber(key);
    noteKind(keys, isOneOfMany ? element : key, held);
    if (typeof held !== 'object' || held === null) continue;
    if (isOneOfMany) noteShape(shape, held, parent, own);
    else noteShape(shape, held, own, key);
  }
}

function noteKind(keys: Map<string, Set<string>>, key: string, value: unknown): void {
  const kinds = keys.get(key);
  if (kinds === undefined) keys.set(key, new Set([kindOf(value)]));
  else kinds.add(kindOf(value));
}

/** Keys are texts; their first character shows whether they are arc numbers. */
function isNumber(key: string): boolean {
  const first = key.charCodeAt(0);
  return first >= 48 && first <= 57;
}

function kindOf(value: unknown): string {
  if (value === null) return 'null';
  return typeof value === 'object' ? value.constructor.name : typeof value;
}

/** A shape as text, a line for each key of each place, in an order that depends on nothing else. */
export function shapeLines(shape: StateShape): string[] {
  const lines: string[] = [];
  for (const [place, keys] of shape) for (const [key, kinds] of keys) lines.push(`${place}.${key}: ${[...kinds].sort().join(' ')}`);
  return lines.sort();
}
