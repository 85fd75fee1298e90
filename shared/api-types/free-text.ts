import { z } from 'zod';

/** SQLite ends a text at U+0000 (sqlite.org/nulinstr.html), and half of a surrogate pair has no UTF-8 (RFC 3629, section 3): neither is given back as it was written. */
const lost = /[\p{Cs}\0]/u;

/** What people write in their own words, on several lines too: 1 to `most` characters. */
export function freeText(most: number): z.ZodString {
  return z
    .string()
    .min(1)
    .max(most)
    .refine((text) => !lost.test(text), { error: 'must hold no NUL character (U+0000) and no half of a surrogate pair' })
    .meta({ pattern: '^[^\0]*$' });
}
