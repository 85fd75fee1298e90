import type { Random } from '../model/seeded-random.js';

export type HostileKind = 'readings' | 'senml' | 'assignment' | 'status';

export interface HostileMessage {
  readonly topic: string;
  readonly payload: Buffer;
  readonly retain: boolean;
  readonly qos: 1 | 2;
}

const start = Date.UTC(2026, 10, 2, 12);

/** The most items of a message of readings, at 10 Hz. */
const mostReadings = 12;
const hostileCarriages = 20;
/** Messages after which other carriages take over: what is tried here are payloads, not how long a carriage can go on so. */
const generation = 2_000;

/** The n-th message of a carriage, as a good one would send it. */
function valid(random: Random, kind: HostileKind, n: number, twoArcs: boolean): string {
  const on = random.chance(0.7);
  const at = n * mostReadings;
  const reading = (k: number, arc = 1): object => ({ boot: 'b1', seq: at + k, time: start + (at + k) * 100, arc, current: on ? 612.4 : 0, voltage: on ? 31.2 : 0, travelSpeed: 520, wireFeedSpeed: 1.21 });
  const list = (from: number): number[] => Array.from({ length: 100 }, (_, k) => from + (k % 9) / 8);
  switch (kind) {
    case 'readings':
      // Arcs of a carriage travel together, message by message.
      if (twoArcs) return JSON.stringify([reading(0), reading(0, 2)]);
      return random.pick([
        () => JSON.stringify(reading(0)),
        () => JSON.stringify(Array.from({ length: random.whole(2, mostReadings) }, (_, k) => reading(k))),
        () => JSON.stringify({ ...reading(0), interval: 1, current: list(600), voltage: list(30) }),
        () => JSON.stringify({ time: start + at * 100, current: 600, voltage: 30, travel: n / 2, plateTemperature: 118 }),
      ])();
    case 'senml':
      return JSON.stringify([{ bn: 'urn:dev:c:', bt: start / 1000 + at / 10, n: 'current', u: 'A', v: 612.4 }, { n: 'voltage', u: 'V', v: 31.2 }, { n: 'travelSpeed', u: 'm/s', v: 0.009 }]);
    case 'assignment':
      return JSON.stringify({ seam: `H-${random.whole(1, 5)}`, run: random.whole(1, 3), procedure: 'SA-12', time: start + at * 100, purpose: 'production', seamLength: 6000, startOffset: 6060, direction: -1, arcs: [{ arc: 1, wireDiameter: 4 }] });
    case 'status':
      return random.pick(['online', 'offline']);
  }
}

const oddNumbers = ['NaN', 'Infinity', '-Infinity', '1e308', '-1e308', '1e999', '0x10', '"12"', 'null', 'true', '[]', '{}', '9007199254740993', '-0', '1e-320', '01', '.5', '-1', '4102444800000', '9e15', '[[1]]', '1e5'];
const oddNames = ['"__proto__"', '"constructor"', '"prototype"', '"toString"', '"hasOwnProperty"', '""', '"then"', '"length"', '"\\u0000"'];
const oddBytes = ['ff', 'c080', 'eda080', 'f4908080', 'efbbbf', '00', '0a', 'e2808b', 'c3'];
const oddRoots = ['', 'null', 'true', '5', '"x"', '[]', '{}', '[null]', '[[]]', '[{}]', '{"seam":null}', '[1,"2",{"current":1}]', ' ', '\uFEFF', '{"current":1,"voltage":1,"current":{}}'];

type Mutation = (payload: Buffer, random: Random) => Buffer;

const onText =
  (change: (text: string, random: Random) => string): Mutation =>
  (payload, random) =>
    Buffer.from(change(payload.toString('utf8'), random));

/** Replaces one match, chosen at random. */
function replaceOne(text: string, pattern: RegExp, random: Random, by: () => string): string {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return by();
  const match = random.pick(found);
  return text.slice(0, match.index) + by() + text.slice(match.index + match[0].length);
}

const mutations: readonly Mutation[] = [
  (payload, random) => {
    const copy = Buffer.from(payload);
    for (let k = random.whole(1, 8); k > 0 && copy.length > 0; k -= 1) {
      const at = random.whole(0, copy.length - 1);
      copy[at] = (copy[at] ?? 0) ^ (1 << random.whole(0, 7));
    }
    return copy;
  },
  (payload, random) => payload.subarray(0, random.whole(0, payload.length)),
  (payload, random) => payload.subarray(random.whole(0, payload.length)),
  (payload, random) => {
    const at = random.whole(0, payload.length);
    return Buffer.concat([payload.subarray(0, at), Buffer.from(random.pick(oddBytes), 'hex'), payload.subarray(at)]);
  },
  (payload, random) => {
    const [a, b] = [random.whole(0, payload.length), random.whole(0, payload.length)];
    return Buffer.concat([payload.subarray(0, Math.max(a, b)), payload.subarray(Math.min(a, b))]);
  },
  (payload, random) => Buffer.from(Array.from({ length: random.whole(0, 200) }, () => random.whole(0, 255)).concat(random.chance(0.5) ? [...payload.subarray(0, 20)] : [])),
  onText((text, random) => replaceOne(text, /-?\d+(\.\d+)?/g, random, () => random.pick(oddNumbers))),
  onText((text, random) => replaceOne(replaceOne(text, /-?\d+(\.\d+)?/g, random, () => random.pick(oddNumbers)), /-?\d+(\.\d+)?/g, random, () => random.pick(oddNumbers))),
  onText((text, random) => replaceOne(text, /"[a-zA-Z]+"(?=:)/g, random, () => random.pick(oddNames))),
  onText((text, random) => replaceOne(text, /[{[]/g, random, () => `{"__proto__":{"polluted":true,"current":1},"current":1,"voltage":2,`)),
  onText((text, random) => replaceOne(text, /-?\d+(\.\d+)?/g, random, () => {
    const depth = random.pick([5, 31, 32, 33, 200, 20_000]);
    return '['.repeat(depth) + ']'.repeat(depth);
  })),
  onText((text, random) => {
    const depth = random.pick([2, 40, 5_000]);
    return '{"a":'.repeat(depth) + text + '}'.repeat(depth);
  }),
  onText((text, random) => replaceOne(text, /"[a-zA-Z0-9]+"/g, random, () => JSON.stringify('x'.repeat(random.pick([65, 1_000, 50_000]))))),
  onText((text, random) => (text.length < 900 && random.chance(0.1) ? `[${Array(1_001).fill(text).join(',')}]` : `[${text},${text}]`)),
  onText((text, random) => (random.chance(0.02) ? text + ' '.repeat(1_200_000) : `${text} `)),
  onText((_text, random) => random.pick(oddRoots)),
  onText((text, random) => text.replaceAll(random.pick([',', ':', '{', '"', '.']), random.pick(['', ' ', ';', '\u0000']))),
];

const oddTopics = ['weld', 'weld/a/b', 'weld/s/c/nonsense', 'weld/s/c/readings/more', 'weld//c/readings', 'weld/s//readings', 'weld/sp ace/c/readings', 'weld/s/ü/readings', 'weld/s/c/READINGS', 'weld/s/c/stored', 'weld/s/c/live', 'weld/s/c/alarms', `weld/s/${'c'.repeat(65)}/readings`];

/** The n-th message of a seeded stream of bad ones, with some good ones among them. */
export function hostileMessage(random: Random, n: number, kinds: readonly HostileKind[]): HostileMessage {
  const kind = random.pick(kinds);
  const carriage = n % hostileCarriages;
  let payload: Buffer = Buffer.from(valid(random, kind, Math.floor((n % generation) / hostileCarriages), carriage === 0));
  for (let k = random.pick([0, 1, 1, 1, 1, 2, 3]); k > 0; k -= 1) payload = random.pick(mutations)(payload, random);
  const topic = random.chance(0.02) ? random.pick(oddTopics) : `weld/hostile/h${carriage}-${Math.floor(n / generation)}/${kind}`;
  return { topic, payload, retain: random.chance(0.02), qos: random.chance(0.05) ? 2 : 1 };
}

const strictUtf8 = new TextDecoder('utf-8', { fatal: true });

/**
 * How many items a message of readings is, by the interface alone: one where it cannot be read as a list, else as many as its
 * list has. Null for kinds whose messages are items only where they are refused.
 */
export function itemsOf({ topic, payload, retain }: HostileMessage): number | null {
  const [, kind] = /^weld\/[A-Za-z0-9_-]{1,64}\/[A-Za-z0-9_-]{1,64}\/(readings|senml|assignment|status)$/.exec(topic) ?? [];
  if (kind === undefined) return 1;
  if (kind !== 'readings') return null;
  if (retain || payload.length > 1024 * 1024) return 1;
  try {
    const value: unknown = JSON.parse(strictUtf8.decode(payload));
    return Array.isArray(value) && value.length >= 1 && value.length <= 1000 ? value.length : 1;
  } catch {
    return 1;
  }
}
