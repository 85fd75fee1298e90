import type { Random } from '../model/seeded-random.js';
import type { SentItem } from './kept-items.js';

export interface PlannedMessage {
  readonly kind: 'readings' | 'assignment';
  readonly payload: string;
  readonly items: readonly SentItem[];
}

export interface PlannedRun {
  readonly seam: string;
  readonly run: number;
  readonly messages: readonly PlannedMessage[];
  /** Samples with the arc on that the run must count, by arc. */
  readonly samples: ReadonlyMap<number, number>;
  /** How often an arc goes out and is lit again, all arcs together. */
  readonly restarts: number;
}

/** How a carriage sends: one reading a message, two arcs at once, ten readings in an array, blocks of 100 at 1 kHz. */
export const planStyles = ['single', 'pair', 'grouped', 'block'] as const;
export type PlanStyle = (typeof planStyles)[number];

/** Noon, 2 November 2026, UTC; a multiple of 100 ms, so that blocks and rows begin together. */
const planStart = Date.UTC(2026, 10, 2, 12);

/** The runs of one carriage, one after the other: each assigned, lit, dark for a moment, lit again, out, ended. */
export function carriagePlan(seam: string, style: PlanStyle, random: Random): () => PlannedRun {
  let seq = 0;
  let tick = 0;
  let run = 0;

  function reading(on: boolean, arc: number): SentItem {
    const time = planStart + tick * 100;
    const noise = (): number => random.whole(-40, 40) / 8;
    const common = { boot: 'b1', seq, time, ...(arc > 1 || random.chance(0.5) ? { arc } : {}) };
    if (style !== 'block') {
      return { ...common, current: on ? 600 + 20 * arc + noise() : 0, voltage: on ? 30 + arc + noise() / 8 : 0, travelSpeed: on ? 550 : 0 };
    }
    const list = (value: () => number): number[] => Array.from({ length: 100 }, () => (on ? value() : 0));
    return { ...common, interval: 1, current: list(() => 600 + noise()), voltage: list(() => 31 + noise() / 8), travelSpeed: on ? 550 : 0 };
  }

  return () => {
    run += 1;
    const samples = new Map<number, number>();
    const messages: PlannedMessage[] = [{ kind: 'assignment', payload: JSON.stringify({ seam, run, runOn: 20 }), items: [] }];
    let group: SentItem[] = [];
    const flush = (): void => {
      if (group.length > 0) messages.push({ kind: 'readings', payload: JSON.stringify(group.length === 1 && style !== 'grouped' ? group[0] : group), items: group });
      group = [];
    };
    const phase = (on: boolean, ticks: number): void => {
      for (let k = 0; k < ticks; k += 1) {
        for (let arc = 1; arc <= (style === 'pair' ? 2 : 1); arc += 1) {
          group.push(reading(on, arc));
          if (on) samples.set(arc, (samples.get(arc) ?? 0) + (style === 'block' ? 100 : 1));
        }
        if (style !== 'grouped' || group.length >= 10) flush();
        seq += 1;
        tick += 1;
      }
    };
    phase(true, random.whole(30, 120));
    phase(false, random.whole(10, 20));
    phase(true, random.whole(30, 120));
    phase(false, random.whole(5, 15));
    flush();
    messages.push({ kind: 'assignment', payload: '', items: [] });
    return { seam, run, messages, samples, restarts: samples.size };
  };
}
