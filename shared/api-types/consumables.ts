import { z } from 'zod';
import { figureSchema } from './common.js';

/* Each is null as a whole only in a run of an earlier program whose rows can no longer be read. */

/** Wire and flux of a run, and what was deposited. */
export const depositSchema = z.strictObject({
  wireLength: figureSchema.meta({ description: 'm of wire fed while the arc was on, data gaps left out, added over the arcs; an arc with several wires counts once' }),
  wireMass: figureSchema.meta({ description: 'kg of wire melted, all wires' }),
  mass: figureSchema.meta({ description: 'kg of weld metal: wireMass × recovery of the procedure' }),
  rate: figureSchema.meta({ description: 'kg of weld metal per hour of arc time' }),
  massPerLength: figureSchema.meta({ description: 'kg of weld metal per m, added over the arcs, each with its own length' }),
  fluxMass: figureSchema.meta({ description: 'kg of flux: mass × fluxRatio of the procedure' }),
}).nullable();

export const electricitySchema = z.strictObject({
  energy: z.number().meta({ description: 'kWh at the arc, not from the mains' }),
  duty: figureSchema.meta({ description: 'Share of the duration in which an arc was on' }),
}).nullable();

const endMeansSchema = z.strictObject({ current: z.number(), wireFeedSpeed: z.number() });
const verdictSchema = z.enum(['inside', 'outside']).nullable();

/** Electrode extension of an arc, mm. */
export const extensionSchema = z.strictObject({
  declared: figureSchema.meta({ description: 'mm, as the assignment declares it' }),
  ratioToDiameter: figureSchema,
  procedure: verdictSchema.meta({ description: 'Against the limits of the procedure' }),
  trade: verdictSchema.meta({ description: 'Against 6 to 10 times the wire diameter, which is common practice' }),
  driftEstimate: figureSchema.meta({ description: 'mm by which the extension seems to have grown over the weld zone: an estimate, never a measurement' }),
  basis: z.string().nullable().meta({ description: 'What the estimate is based on' }),
  estimatedFrom: z.strictObject({ factor: z.number(), first: endMeansSchema, last: endMeansSchema }).nullable()
    .meta({ description: 'Mean current and wire feed speed over the first and the last 100 mm of the weld zone, and the melted mass of the feed over that of the equation in the first' }),
}).nullable();
