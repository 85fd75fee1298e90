/** The part of the address behind #: a path and a query, so that a page can be bookmarked without the server knowing about it. */
export interface Address { readonly path: readonly string[]; readonly query: URLSearchParams }

/** Reads `#/run/abc?axis=time`; what cannot be decoded stays as it is written. */
export function readAddress(hash: string): Address {
  const text = hash.replace(/^#\/?/, '');
  const mark = text.indexOf('?');
  const path = mark < 0 ? text : text.slice(0, mark);
  return {
    path: path.split('/').filter((part) => part !== '').map(decoded),
    query: new URLSearchParams(mark < 0 ? '' : text.slice(mark + 1)),
  };
}

export type Query = Readonly<Record<string, string | number | null | undefined>>;

/** Writes the address as `readAddress` reads it. */
export function writeAddress(path: readonly string[], query: Query = {}): string {
  return `#/${path.map((part) => encodeURIComponent(part)).join('/')}${queryText(query)}`;
}

/** A query with its question mark; values that are null, undefined or empty are left out, and so is a query without values. */
export function queryText(query: Query): string {
  const params = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) {
    if (value !== null && value !== undefined && value !== '') params.set(name, String(value));
  }
  const text = params.toString();
  return text === '' ? '' : `?${text}`;
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
