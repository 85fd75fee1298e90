import type { ArcSamples } from './arc.js';
import type { CarriagePlan } from './carriage-plan.js';
import type { SeamPlan } from './seam-plan.js';

/** What a carriage sends at one moment. Time ms since 1970 by the device's clock; other units as sent. */
export interface Moment {
  readonly boot: string;
  readonly seq: number;
  readonly time: number;
  /** Sample interval in ms; null for readings. */
  readonly interval: number | null;
  readonly travelSpeed: number;
  /** The present value, mm, and its growth over a block. */
  readonly travel: number;
  readonly advance: number;
  readonly plateTemperature: number;
  readonly arcs: readonly { readonly arc: number; readonly samples: ArcSamples }[];
}

/** One reading or block if the carriage has one arc, an array if it has more. */
export function readingsPayload(moment: Moment): string {
  const items = moment.arcs.map(({ arc, samples }) => {
    const block = moment.interval !== null;
    return {
      boot: moment.boot,
      seq: moment.seq,
      time: moment.time,
      ...(moment.interval === null ? {} : { interval: moment.interval }),
      arc,
      current: block ? samples.current : samples.current[0],
      voltage: block ? samples.voltage : samples.voltage[0],
      travelSpeed: moment.travelSpeed,
      wireFeedSpeed: samples.wireFeedSpeed,
      travel: travelOver(moment, samples.current.length),
      plateTemperature: moment.plateTemperature,
    };
  });
  return JSON.stringify(items.length === 1 ? items[0] : items);
}

function travelOver(moment: Moment, count: number): number | number[] {
  const at = (sample: number): number => Math.round((moment.travel + (moment.advance * sample) / count) * 1000) / 1000;
  return count === 1 || moment.advance === 0 ? at(0) : Array.from({ length: count }, (_, sample) => at(sample));
}

/** `time` is the device time, ms, from which on the carriage welds this run. */
export function assignmentPayload(plan: CarriagePlan, seam: SeamPlan, time: number): string {
  return JSON.stringify({
    seam: seam.seam, run: seam.run, procedure: plan.procedure, time, purpose: 'production',
    ...(seam.seamLength === null ? {} : { seamLength: seam.seamLength }), thickness: seam.thickness, side: seam.side, datum: seam.datum,
    startOffset: seam.startOffset, direction: seam.direction,
    ...(seam.ring === null ? { runOn: seam.tab, runOff: seam.tab, motion: 'carriage' } : { motion: 'work', diameter: seam.ring.diameter }),
    preheat: plan.ambient, operator: plan.operator,
    arcs: plan.arcs.map(({ arc, wireDiameter, extension }, index) => ({ arc, wireDiameter, electrodeExtension: extension, wireLot: seam.wireLots[index], spoolMass: seam.spoolMasses[index] })),
    fluxLot: seam.fluxLot,
    preparation: {
      surfaceCleaned: true, polarityChecked: true, trackParallel: true, preheatMeasured: plan.ambient,
      ...(seam.prepared ? { flux: { dried: true, temperature: 300, hours: 2 } } : {}), by: plan.operator, at: time,
    },
    simulated: true,
  });
}
