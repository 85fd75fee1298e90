import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { askerOf } from './announced.js';
import type { Asker } from './announced.js';
import { firstStart } from './made-run.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;
let asker: Asker;
/** Ids in the order in which a list must give them. */
const newestFirst: string[] = [];

beforeAll(async () => {
  api = await startApi();
  asker = await askerOf(api.url);
  for (let number = 0; number < 25; number += 1) {
    // Three runs begin at each moment, so only their ids distinguish them.
    const started = firstStart + Math.floor(number / 3) * 60e6;
    const id = `r${String(number).padStart(2, '0')}`;
    const unassigned = number % 5 === 0;
    api.addRun({
      id, started,
      carriage: number % 2 === 0 ? 'c1' : 'c2',
      site: number < 12 ? 'hall-1' : 'hall-2',
      state: number === 24 ? 'welding' : 'finished',
      excursions: number % 4, complete: number % 6 !== 0, judged: number % 2 === 0, length: number === 7 ? null : 500 + (number % 7),
      ...(unassigned
        ? { assigned: false, assignment: null, seam: null, run: null }
        : { seam: seamOf(number), run: 1 + (number % 2), assignment: { seam: seamOf(number), run: 1 + (number % 2), procedure: `P-${number % 3}`, operator: number < 9 ? 'op-1' : 'op-2', fluxLot: number % 4 === 1 ? 'F-1' : 'F-12' } }),
    });
    newestFirst.unshift(id);
  }
  const refuse = api.writer.prepare('INSERT INTO refused (received, topic, reason, size, head) VALUES (?, ?, ?, ?, ?)');
  for (let number = 0; number < 7; number += 1) refuse.run(firstStart + number, 't', `reason ${number}`, 1, Buffer.from('x'));
});

afterAll(async () => {
  await api.stop();
});

const seamOf = (number: number): string => (number % 3 === 0 ? 'S/1' : 'S/2');

interface Listed {
  readonly items: readonly { readonly id: string; readonly reason?: string }[];
  readonly next: string | null;
}

async function listed(path: string): Promise<Listed> {
  const answer = await asker.ask('GET', path);
  expect(answer.status, answer.text).toBe(200);
  return answer.body as Listed;
}

async function walk(path: string, limit: number): Promise<string[]> {
  const ids: string[] = [];
  let cursor: string | null = null;
  for (let page = 0; page < 100; page += 1) {
    const answer: Listed = await listed(`${path}${path.includes('?') ? '&' : '?'}limit=${limit}${cursor === null ? '' : `&cursor=${cursor}`}`);
    expect(answer.items.length).toBeLessThanOrEqual(limit);
    ids.push(...answer.items.map((own) => own.id));
    cursor = answer.next;
    if (cursor === null) return ids;
  }
  throw new Error('the pages do not end');
}

test('pages of any size give every run once, the newest first', async () => {
  await fc.assert(
    fc.asyncProperty(fc.integer({ min: 1, max: 30 }), async (limit) => {
      expect(await walk('/api/runs', limit)).toEqual(newestFirst);
    }),
    { numRuns: 12 },
  );
});

test('a run that begins while pages are turned moves none of the others', async () => {
  const first = await listed('/api/runs?limit=10');
  api.addRun({ id: 'r-new', started: firstStart + 1e12 });
  const second = await listed(`/api/runs?limit=10&cursor=${first.next ?? ''}`);
  api.writer.prepare("DELETE FROM runs WHERE id = 'r-new'").run();
  expect(second.items.map((own) => own.id)).toEqual(newestFirst.slice(10, 20));
});

test('filters take what they name and nothing else', async () => {
  const number = (id: string): number => Number(id.slice(1));
  const cases: readonly (readonly [string, (run: number) => boolean])[] = [
    ['site=hall-1', (run) => run < 12],
    ['carriage=c2', (run) => run % 2 === 1],
    ['state=welding', (run) => run === 24],
    ['assigned=false', (run) => run % 5 === 0],
    ['assigned=true&seam=S%2F1', (run) => run % 5 !== 0 && run % 3 === 0],
    ['from=2026-11-23T08:01:00Z&to=2026-11-23T08:03:00.000Z', (run) => run >= 3 && run < 9],
    ['from=2026-11-23T09:02:00%2B01:00', (run) => run >= 6],
    ['from=2026-11-24T00:00:00Z', () => false],
    ['site=hall-2&carriage=c1&state=finished', (run) => run >= 12 && run % 2 === 0 && run !== 24],
    ['run=2', (run) => run % 5 !== 0 && run % 2 === 1],
    ['procedure=P-2', (run) => run % 5 !== 0 && run % 3 === 2],
    ['operator=op-1', (run) => run % 5 !== 0 && run < 9],
    // F-1 does not match F-12.
    ['lot=F-1', (run) => run % 5 !== 0 && run % 4 === 1],
    ['excursions=true', (run) => run % 4 > 0],
    ['excursions=false&complete=false', (run) => run % 12 === 0],
    ['judged=true&seam=S%2F2', (run) => run % 5 !== 0 && run % 3 !== 0 && run % 2 === 0],
    // Every word is in the seam or in the carriage; signs that mean something to LIKE mean nothing here.
    ['search=s%2F1', (run) => run % 5 !== 0 && run % 3 === 0],
    ['search=%2F2%20C1', (run) => run % 5 !== 0 && run % 3 !== 0 && run % 2 === 0],
    ['search=c2', (run) => run % 2 === 1],
    ['search=%25', () => false],
    ['search=c_', () => false],
    ['search=%5C', () => false],
  ];
  for (const [query, fits] of cases) {
    expect(await walk(`/api/runs?${query}`, 4), query).toEqual(newestFirst.filter((id) => fits(number(id))));
  }
});

test('a sorted list gives every run once, in pages of any size, with what is not known behind the rest', async () => {
  const number = (id: string): number => Number(id.slice(1));
  const known: Readonly<Record<string, (run: number) => string | number | null>> = {
    startedAt: (run) => Math.floor(run / 3),
    seam: (run) => (run % 5 === 0 ? null : seamOf(run)),
    length: (run) => (run === 7 || run === 24 ? null : 500 + (run % 7)),
    excursions: (run) => run % 4,
  };
  for (const [order, valueOf] of Object.entries(known)) {
    for (const direction of ['asc', 'desc']) {
      const sorted = newestFirst.toSorted((one, other) => {
        const [a, b] = [valueOf(number(one)), valueOf(number(other))];
        if (a === b) return newestFirst.indexOf(one) - newestFirst.indexOf(other);
        if (a === null || b === null) return a === null ? 1 : -1;
        return (a < b ? -1 : 1) * (direction === 'asc' ? 1 : -1);
      });
      for (const limit of [4, 100]) expect(await walk(`/api/runs?order=${order}&direction=${direction}`, limit), `${order} ${direction} ${limit}`).toEqual(sorted);
    }
  }
  expect(await walk('/api/runs?order=seam', 3)).toEqual(await walk('/api/runs?order=seam&direction=asc', 100));
  const { next } = await listed('/api/runs?order=length&limit=2');
  expect((await asker.ask('GET', `/api/runs?order=seam&limit=2&cursor=${next ?? ''}`)).status).toBe(400);
});

test('sorting reads the index alone', () => {
  const plan = JSON.stringify(api.writer.prepare('EXPLAIN QUERY PLAN SELECT id, started, coalesce(length, -1) AS value FROM runs WHERE excursions > 0 ORDER BY value DESC, started DESC, id DESC LIMIT 101').all());
  expect(plan).toContain('USING COVERING INDEX runs_by_start');
});

test('a run is found by the time that its own answer gives, however it was rounded', async () => {
  await fc.assert(
    fc.asyncProperty(fc.integer({ min: 0, max: 999_999 }), async (microseconds) => {
      api.writer.prepare("DELETE FROM runs WHERE id = 'r-odd'").run();
      const started = firstStart + 1e13 + microseconds;
      api.addRun({ id: 'r-odd', started });
      const answered = new Date(Math.round(started / 1000)).toISOString();
      const next = new Date(Math.round(started / 1000) + 1).toISOString();
      expect((await listed(`/api/runs?from=${answered}&to=${next}`)).items.map((own) => own.id)).toEqual(['r-odd']);
    }),
    { numRuns: 30 },
  );
  api.writer.prepare("DELETE FROM runs WHERE id = 'r-odd'").run();
});

test('refused entries come the newest first', async () => {
  const all = await listed('/api/refused?limit=3');
  expect(all.items.map((own) => own.reason)).toEqual(['reason 6', 'reason 5', 'reason 4']);
  expect(await walk('/api/refused', 2)).toHaveLength(7);
  // From the fifth of seven on, a millisecond apart from none of the others.
  const since = new Date(Math.ceil((firstStart + 4) / 1000)).toISOString();
  expect((await asker.ask('GET', `/api/refused?since=${since}`)).body).toMatchObject({ total: 0, items: [] });
  expect((await asker.ask('GET', `/api/refused?limit=1&since=${new Date(firstStart / 1000).toISOString()}`)).body).toMatchObject({ total: 7 });
});

test('a cursor of another list, or a text that is not a cursor, is a problem that names it', async () => {
  const { next } = await listed('/api/refused?limit=1');
  for (const cursor of [next ?? '', 'abc', '', 'W10', encodeURIComponent('{}')]) {
    const answer = await asker.ask('GET', `/api/runs?cursor=${cursor}`);
    expect(answer.status, cursor).toBe(400);
    expect(answer.body).toMatchObject({ errors: [{ field: 'cursor' }] });
  }
});

test('a search skips what does not match within the index that gives the order', () => {
  const plan = api.writer.prepare("EXPLAIN SELECT id, started, record FROM runs WHERE (seam LIKE ? ESCAPE '\\' OR carriage LIKE ? ESCAPE '\\') ORDER BY started DESC, id DESC LIMIT 101").all('%x%', '%x%') as readonly { readonly opcode: string }[];
  const steps = plan.map(({ opcode }) => opcode);
  // The row itself is sought only when its record is read, behind the comparison.
  expect(steps).toContain('DeferredSeek');
  expect(JSON.stringify(api.writer.prepare("EXPLAIN QUERY PLAN SELECT id, started, record FROM runs WHERE (seam LIKE ? OR carriage LIKE ?) ORDER BY started DESC, id DESC LIMIT 101").all('x', 'x'))).toContain('USING INDEX runs_by_start');
});

test('the run list goes by an index, not over the table', () => {
  const plan = api.writer.prepare('EXPLAIN QUERY PLAN SELECT id, started, record FROM runs WHERE (started, id) < (1, ?) ORDER BY started DESC, id DESC LIMIT 101').all('x');
  expect(JSON.stringify(plan)).toContain('USING INDEX runs_by_start');
  expect(JSON.stringify(plan)).not.toContain('TEMP B-TREE');
});
