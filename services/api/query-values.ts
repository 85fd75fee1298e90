import { z } from 'zod';
import { nameSchema } from '../../shared/api-types/common.js';
import { timePattern } from '../../shared/api-types/described-text.js';
import { freeText } from '../../shared/api-types/free-text.js';
import { readCursor, type PageRequest } from '../../shared/records/page.js';
import { readDeviceTime } from '../../shared/weld/decode/device-time.js';
import { problemError } from './problem-error.js';

/** Queries are text: a value that reads as a number becomes one, all else stays text, which no number accepts. */
function asNumber(value: unknown): unknown {
  return typeof value === 'string' && /^-?\d{1,16}(\.\d{1,30})?([eE][+-]?\d{1,3})?$/.test(value) ? Number(value) : value;
}

export const wholeQuery = (low: number, high: number) => z.preprocess(asNumber, z.number().int().min(low).max(high)).optional();
export const numberQuery = (low: number, high: number) => z.preprocess(asNumber, z.number().min(low).max(high)).optional();
export const booleanQuery = z.preprocess((value) => (value === 'true' ? true : value === 'false' ? false : value), z.boolean()).optional();
export const nameQuery = nameSchema.optional();
export const textQuery = freeText(128).optional();
export const timeQuery = z
  .string()
  .refine((text) => !Number.isNaN(readDeviceTime(text)), { error: 'must be RFC 3339 from 1970 to 2106, with its + written as %2B' })
  .optional()
  .meta({ pattern: timePattern, description: 'RFC 3339' });

export const formatQuery = z.enum(['json', 'csv']).optional().meta({ description: 'json if left out' });

export const pageQuery = {
  limit: wholeQuery(1, 1000).meta({ description: 'Number of items at most; 100 if left out' }),
  cursor: z.string().max(400).optional().meta({ description: 'The `next` of the page before' }),
};

/** The page of a list that a query asks for. Throws a problem if the cursor does not belong to that list. */
export function pageRequest(list: string, query: { readonly limit?: number | undefined; readonly cursor?: string | undefined }): PageRequest {
  const { limit = 100, cursor } = query;
  if (cursor === undefined) return { limit, after: null };
  const after = readCursor(list, cursor);
  if (after === undefined) throw noCursor();
  return { limit, after };
}

export function noCursor(): Error {
  return problemError(400, 'cursor: must be the next of an earlier answer of this list.', { fields: [{ field: 'cursor', reason: 'must be the next of an earlier answer of this list' }] });
}

/** µs since 1970 of a time that has passed `timeQuery`. */
export function timeOf(text: string | undefined): number | undefined {
  return text === undefined ? undefined : readDeviceTime(text);
}
