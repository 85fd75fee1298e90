import type { CaseFile, Stretch, Wave } from './case-format.js';
import { waveValue } from './wave.js';

export type Payload = Readonly<Record<string, unknown>>;

export type CaseMessage =
  | { readonly kind: 'readings'; readonly at: number; readonly boot: string | null; readonly seq: number | null; readonly payload: Payload | readonly Payload[] }
  | { readonly kind: 'assignment'; readonly payload: Payload | null };

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
  return stretch.arcs.map(({ arc, current, voltage }) => {
    const block = stretch.block === undefined ? {} : { interval: stretch.interval ?? stretch.every / stretch.block };
    const fill = (wave: Wave): number | number[] => {
      const value = values(wave, tick);
      // current and voltage of a block are always arrays: one of them gives the number of samples
      return stretch.block !== undefined && typeof value === 'number' ? Array.from({ length: stretch.block }, () => value) : value;
    };
    return {
      ...header,
      ...block,
      arc,
      current: fill(current),
      voltage: fill(voltage),
      ...(stretch.travelSpeed === undefined ? {} : { travelSpeed: values(stretch.travelSpeed, tick) }),
      ...(stretch.travel === undefined ? {} : { travel: values(stretch.travel, tick) }),
    };
  });
}

/** The messages of a case in the order in which they are sent, assignments at their places. */
export function expandCase(file: CaseFile): CaseMessage[] {
  const start = caseStart(file);
  const ticks = file.stretches.flatMap(ticksOf).sort((a, b) => a.at - b.at);
  const pending = [...(file.assignments ?? [])];
  const messages: CaseMessage[] = [];
  const assignUpTo = (time: number): void => {
    while (pending[0] !== undefined && placeOf(pending[0].after) < time) messages.push({ kind: 'assignment', payload: pending.shift()?.assignment ?? null });
  };
  let boot: string | null = null;
  let seq = 0;
  for (const tick of ticks) {
    assignUpTo(tick.at);
    const named = file.boots?.findLast((entry) => entry.from <= tick.at)?.boot ?? (file.boot === undefined ? 'b1' : file.boot);
    seq = named === boot ? seq + 1 : 0;
    boot = named;
    if (file.lost?.some((hole) => hole.from <= tick.at && tick.at <= hole.to) === true) continue;
    const shift = file.clock?.findLast((step) => step.from <= tick.at)?.shift ?? 0;
    const late = tick.stretch.lateBy;
    const lateBy = late === undefined ? 0 : (late[tick.number % late.length] ?? 0);
    const time = Math.round((start + (tick.at + shift) * 1000 + lateBy) * 1000) / 1000;
    const payloads = arcPayloads(tick, { ...(boot === null ? {} : { boot, seq }), time });
    const payload = payloads.length === 1 ? payloads[0] : undefined;
    messages.push({ kind: 'readings', at: tick.at, boot, seq: boot === null ? null : seq, payload: payload ?? payloads });
  }
  assignUpTo(Number.POSITIVE_INFINITY);
  for (const { assignment } of pending) messages.push({ kind: 'assignment', payload: assignment });
  return messages;
}

function placeOf(after: number | 'start' | 'end'): number {
  if (after === 'start') return Number.NEGATIVE_INFINITY;
  return after === 'end' ? Number.POSITIVE_INFINITY : after;
}
