import { z } from 'zod';

/** SQLite ends a text at U+0000 (sqlite.org/nulinstr.html), and a lone surrogate has no UTF-8 (RFC 3629, section 3): neither is returned as it was written. */
const lost = /[\p{Cs}\0]/u;

/** Free text written by people, on several lines too: 1 to `most` characters. */
export function freeText(most: number): z.ZodString {
  return z.string().min(1).max(most)
    .refine((text) => !lost.test(text), { error: 'must hold no NUL character (U+0000) and no half of a surrogate pair' })
    .meta({ pattern: '^[^\0]*$' });
}
