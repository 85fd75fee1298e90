import { z } from 'zod';
import { timePattern } from '../../shared/api-types/described-text.js';
import { importAnswerSchema } from '../../shared/api-types/entries.js';
import { freeText } from '../../shared/api-types/free-text.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { readDeviceTime } from '../../shared/weld/decode/device-time.js';
import type { IngestPort } from '../ingest-port.js';
import { checkedAssignment } from './check-request.js';
import { granted } from './errors.js';
import { problemError } from './problem-error.js';
import { nameQuery, textQuery, wholeQuery } from './query-values.js';
import { route, type Route } from './route.js';

/** About 24 h of one arc at 10 Hz with every column take 45 MB. */
const longestLog = 268_435_456;

/** The site of a log if none is named. */
const importSite = 'import';

const query = z.strictObject({
  site: nameQuery.meta({ description: `The site, if carriage does not name it; ${importSite} if left out` }),
  carriage: z
    .string()
    .regex(/^([A-Za-z0-9_-]{1,64}\/)?[A-Za-z0-9_-]{1,64}$/, 'must be a carriage or site/carriage, each 1 to 64 of the characters A-Z a-z 0-9 _ -')
    .meta({ description: 'A carriage, or site/carriage as on the command line' }),
  seam: textQuery,
  run: wholeQuery(1, 9999),
  procedure: textQuery,
  assignment: z.string().max(8192).optional().meta({ contentMediaType: 'application/json', description: 'An assignment as JSON text; seam, run and procedure of the query override its own' }),
  start: z.string().max(64).optional().meta({ pattern: `^\\d{1,12}(\\.\\d{1,6})?$|${timePattern}`, description: 'The time of zero of the log, where its times are seconds: Unix milliseconds or RFC 3339' }),
  file: freeText(255).optional().meta({ description: 'Name of the file that the log was read from' }),
  by: textQuery.meta({ description: 'Who imports it' }),
});

/** Logs of runs that were recorded elsewhere. */
export function importRoutes(port: IngestPort): Route[] {
  return [
    route(
      {
        method: 'post', path: '/api/imports', group: 'items',
        summary: 'Import a CSV log of one run; importing it again changes nothing',
        query, body: { type: 'text/csv', schema: z.string(), limit: longestLog },
        answers: { 200: { description: 'What was stored, and which lines were refused', schema: importAnswerSchema } },
        problems: [404, 409],
      },
      async ({ query: given, upload }) => {
        if (upload === null) throw new TypeError('a log is taken piece by piece');
        const request = {
          ...placeOf(given),
          assignment: assignmentOf(given),
          start: startOf(given.start),
          file: given.file ?? null,
          by: given.by ?? null,
        };
        const done = granted(await port.importLog(request, upload.pieces, upload.gone));
        return { status: 200, body: done };
      },
    ),
  ];
}

function placeOf({ site, carriage }: z.output<typeof query>): { readonly site: string; readonly carriage: string } {
  const [first = '', second] = carriage.split('/');
  return second === undefined ? { site: site ?? importSite, carriage: first } : { site: first, carriage: second };
}

function assignmentOf(given: z.output<typeof query>): Assignment | null {
  const { seam, run, procedure, assignment } = given;
  if (seam === undefined && run === undefined && procedure === undefined && assignment === undefined) return null;
  const base: unknown = assignment === undefined ? {} : parsed(assignment);
  if (typeof base !== 'object' || base === null || Array.isArray(base)) throw wrong('assignment', 'must be a JSON object');
  const own = Object.fromEntries(Object.entries({ seam, run, procedure }).filter(([, value]) => value !== undefined));
  return checkedAssignment({ ...base, ...own });
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw wrong('assignment', 'must be JSON');
  }
}

/** ms since 1970. */
function startOf(text: string | undefined): number | null {
  if (text === undefined) return null;
  const time = readDeviceTime(/^\d{1,15}(\.\d{1,6})?$/.test(text) ? Number(text) : text);
  if (Number.isNaN(time)) throw wrong('start', 'must be Unix milliseconds or RFC 3339 text, from 1970 to 2106');
  return time / 1000;
}

function wrong(field: string, reason: string): Error {
  return problemError(400, `${field}: ${reason}`, { fields: [{ field, reason }] });
}
