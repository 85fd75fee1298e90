import type { CaseFile, CaseProcedure, CaseTemperature, Stretch, Wave } from './case-format.js';
import { waveValue } from './wave.js';

export type Payload = Readonly<Record<string, unknown>>;

export type CaseMessage =
  | {
      readonly kind: 'readings';
      /** When it is sent, s after the start of the case. */
      readonly at: number;
      readonly boot: string | null;
      readonly seq: number | null;
      readonly payload: Payload | readonly Payload[];
    }
  | { readonly kind: 'assignment'; readonly payload: Payload | null }
  | { readonly kind: 'temperature'; readonly temperature: EnteredHere }
  | { readonly kind: 'revision'; readonly procedure: CaseProcedure };

/** A temperature as it is entered: `at` in ms since 1970, and the place in the list of runs where it is entered at one. */
export interface EnteredHere extends Pick<CaseTemperature, 'kind' | 'value' | 'seam' | 'place'> {
  readonly of: number | null;
  readonly at: number;
}

interface Tick {
  readonly at: number;
  readonly stretch: Stretch;
  readonly number: number;
}

const defaultStart = '2026-11-02T06:00:00Z';

export function caseStart(file: CaseFile): number {
  return Date.parse(file.start ?? defaultStart);
}

function ticksOf(stretch: Stretch): Tick[] {
  const count = Math.floor(((stretch.to - stretch.from) * 1000) / stretch.every + 1e-6) + 1;
  return Array.from({ length: count }, (_, number) => ({
    at: Math.round((stretch.from * 1000 + number * stretch.every) * 1000) / 1_000_000,
    stretch,
    number,
  }));
}

function values(wave: Wave, tick: Tick): number | number[] {
  const { stretch, number, at } = tick;
  if (stretch.block === undefined) return waveValue(wave, number, at, at - stretch.from);
  if (typeof wave === 'number') return wave;
  const count = stretch.block;
  const interval = stretch.interval ?? stretch.every / count;
  return Array.from({ length: count }, (_, k) => {
    const seconds = at + (k * interval) / 1000;
    return waveValue(wave, number * count + k, seconds, seconds - stretch.from);
  });
}

function arcPayloads(tick: Tick, header: Payload): Payload[] {
  const { stretch } = tick;
  return stretch.arcs.map(({ arc, current, voltage, ...spreads }) => {
    const block = stretch.block === undefined ? {} : { interval: stretch.interval ?? stretch.every / stretch.block };
    const fill = (wave: Wave): number | number[] => {
      const value = values(wave, tick);
      // current and voltage of a block are always arrays, because one of them gives the number of samples
      return stretch.block !== undefined && typeof value === 'number' ? Array.from({ length: stretch.block }, () => value) : value;
    };
    return {
      ...header,
      ...block,
      arc,
      current: fill(current),
      voltage: fill(voltage),
      ...Object.fromEntries(Object.entries(spreads).map(([name, wave]) => [name, values(wave, tick)])),
      ...(stretch.travelSpeed === undefined ? {} : { travelSpeed: values(stretch.travelSpeed, tick) }),
      ...(stretch.travel === undefined ? {} : { travel: values(stretch.travel, tick) }),
    };
  });
}

interface Sent {
  readonly message: Extract<CaseMessage, { kind: 'readings' }>;
  readonly delayed: boolean;
}

/** The readings of a case, in the order in which they are made. */
function readingsOf(file: CaseFile): Sent[] {
  const start = caseStart(file);
  const ticks = file.stretches.flatMap(ticksOf).sort((a, b) => a.at - b.at);
  const afterAll = (ticks.at(-1)?.at ?? 0) + 1;
  let boot: string | null = null;
  let seq = 0;
  return ticks.flatMap((tick) => {
    const named = file.boots?.findLast((entry) => entry.from <= tick.at)?.boot ?? (file.boot === undefined ? 'b1' : file.boot);
    seq = named === boot ? seq + 1 : 0;
    boot = named;
    if (file.lost?.some((hole) => hole.from <= tick.at && tick.at <= hole.to) === true) return [];
    const shift = file.clock?.findLast((step) => step.from <= tick.at)?.shift ?? 0;
    const late = tick.stretch.lateBy;
    const lateBy = late === undefined ? 0 : (late[tick.number % late.length] ?? 0);
    const time = Math.round((start + (tick.at + shift) * 1000 + lateBy) * 1000) / 1000;
    const payloads = arcPayloads(tick, { ...(boot === null ? {} : { boot, seq }), time });
    const payload = payloads.length === 1 ? payloads[0] : undefined;
    const until = file.delayed?.find((own) => own.from <= tick.at && tick.at <= own.to)?.until;
    const at = until === undefined ? tick.at : Math.min(placeOf(until), afterAll);
    return [{ message: { kind: 'readings', at, boot, seq: boot === null ? null : seq, payload: payload ?? payloads }, delayed: until !== undefined }];
  });
}

/** The messages of a case in the order in which they are sent, with assignments, temperatures and revisions at their places. */
export function expandCase(file: CaseFile): CaseMessage[] {
  const readings = readingsOf(file).sort((a, b) => a.message.at - b.message.at || Number(a.delayed) - Number(b.delayed));
  const pending = [
    ...(file.assignments ?? []).map(({ after, assignment }) => ({ place: placeOf(after), message: { kind: 'assignment', payload: assignment } as const })),
    ...(file.temperatures ?? []).map(({ after, at, of = null, ...own }) => ({ place: placeOf(after), message: { kind: 'temperature', temperature: { ...own, of, at: Math.round(caseStart(file) + at * 1000) } } as const })),
    ...(file.revisions ?? []).map(({ after, procedure }) => ({ place: after, message: { kind: 'revision', procedure } as const })),
  ].sort((a, b) => a.place - b.place);
  const messages: CaseMessage[] = [];
  for (const { message } of readings) {
    while (pending[0] !== undefined && pending[0].place < message.at) messages.push(...pending.splice(0, 1).map((own) => own.message));
    messages.push(message);
  }
  return [...messages, ...pending.map((own) => own.message)];
}

function placeOf(after: number | 'start' | 'end'): number {
  if (after === 'start') return Number.NEGATIVE_INFINITY;
  return after === 'end' ? Number.POSITIVE_INFINITY : after;
}
