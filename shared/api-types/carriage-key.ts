import { z } from 'zod';

const head = /^\{"site":"([A-Za-z0-9_-]{1,64})","carriage":"([A-Za-z0-9_-]{1,64})"/;
const named = z.object({ site: z.string(), carriage: z.string() });

/**
 * `site/carriage` of a carriage's answer as JSON text. The names come first, so the rest, kilobytes of it several times a second, usually need
 * not be read. Throws if the text is not such an answer.
 */
export function carriageKey(text: string): string {
  const [, site, carriage] = head.exec(text) ?? [];
  if (site !== undefined && carriage !== undefined) return `${site}/${carriage}`;
  const parsed = named.parse(JSON.parse(text));
  return `${parsed.site}/${parsed.carriage}`;
}
