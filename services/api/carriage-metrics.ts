import type { Carriage } from '../../shared/api-types/carriage.js';

/** Carriages that have been silent for longer are in no metric, ms, so that a name used once does not make a series for ever. */
const heardWithin = 86_400_000;

type Read = Partial<Pick<Carriage, 'site' | 'carriage' | 'clockOffset' | 'lastSeen' | 'welding'>>;

interface Family {
  readonly name: string;
  readonly help: string;
  readonly value: (carriage: Read, now: number) => number | null;
}

const families: readonly Family[] = [
  { name: 'seamwarden_carriage_clock_offset_seconds', help: 'Arrival minus device time of the newest item, s', value: ({ clockOffset }) => clockOffset ?? null },
  {
    name: 'seamwarden_carriage_silence_seconds', help: 'Time since the newest item of a carriage came, s',
    value: ({ lastSeen }, now) => (typeof lastSeen === 'string' ? Math.max(0, (now - Date.parse(lastSeen)) / 1e3) : null),
  },
  { name: 'seamwarden_carriage_welding', help: '1 while an arc of the carriage burns, else 0', value: ({ welding }) => (welding === true ? 1 : 0) },
];

/**
 * Gauges of the carriages heard within a day, as OpenMetrics text without its end. `texts` are their answers; `now` is ms since 1970. Written
 * straight from there: a client library takes seconds for some thousand carriages. Names hold nothing that would have to be escaped.
 */
export function carriageMetrics(texts: readonly string[], now: number): string {
  const heard = texts.map((text) => JSON.parse(text) as Read).filter(({ lastSeen }) => typeof lastSeen === 'string' && now - Date.parse(lastSeen) <= heardWithin);
  return families.map((family) => written(family, heard, now)).join('');
}

function written({ name, help, value }: Family, carriages: readonly Read[], now: number): string {
  const lines = carriages.flatMap((carriage) => {
    const own = value(carriage, now);
    return own === null ? [] : [`${name}{site="${carriage.site ?? ''}",carriage="${carriage.carriage ?? ''}"} ${own}\n`];
  });
  return `# HELP ${name} ${help}\n# TYPE ${name} gauge\n${lines.join('')}`;
}
