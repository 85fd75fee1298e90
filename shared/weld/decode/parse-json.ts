import { headOfPayload, makePrintable } from './printable.js';

/** Largest payload that is accepted, bytes. */
export const largestPayload = 1024 * 1024;
/** Deepest nesting that is accepted; nothing that Seamwarden reads nests deeper than 3. */
export const deepestNesting = 32;

export type ParsedPayload =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly reason: string; readonly head: string };

const utf8 = new TextDecoder('utf-8', { fatal: true });

/** Reads a payload as JSON in UTF-8 (RFC 8259; a byte order mark at its start is ignored, as its section 8.1 allows). Never throws. */
export function parsePayload(payload: Uint8Array): ParsedPayload {
  const problem = sizeProblem(payload);
  if (problem !== null) return { ok: false, reason: problem, head: headOfPayload(payload) };
  let text: string;
  try {
    text = utf8.decode(payload);
  } catch {
    return { ok: false, reason: 'the payload is not UTF-8; expected: JSON in UTF-8', head: headOfPayload(payload) };
  }
  try {
    return { ok: true, value: JSON.parse(text) as unknown };
  } catch (error) {
    const why = error instanceof Error ? makePrintable(error.message.slice(0, 160)) : 'unreadable';
    return { ok: false, reason: `the payload is not JSON (${why}); expected: JSON in UTF-8`, head: headOfPayload(payload) };
  }
}

/** Why a payload is refused for its size alone, or null. */
export function sizeProblem(payload: Uint8Array): string | null {
  if (payload.length === 0) return 'the payload is empty; expected: JSON in UTF-8';
  if (payload.length <= largestPayload) return null;
  return `the payload has ${payload.length} bytes; expected: at most ${largestPayload} (1 MiB)`;
}

/** Whether a parsed value nests deeper than `deepestNesting`. Walks without recursion. */
export function nestsTooDeep(value: unknown): boolean {
  let level: object[] = typeof value === 'object' && value !== null ? [value] : [];
  for (let depth = 0; level.length > 0; depth += 1) {
    if (depth >= deepestNesting) return true;
    const next: object[] = [];
    for (const parent of level) {
      for (const child of Object.values(parent) as unknown[]) if (typeof child === 'object' && child !== null) next.push(child);
    }
    level = next;
  }
  return false;
}
