import { z } from 'zod';
import { currentSensors, platePlaces, travelSources, voltagePickups } from '../weld/procedure/sensors.js';
import { arcNumberSchema, timeSchema } from './common.js';
import { freeText } from './free-text.js';

/** More than any welding cable has, mΩ; common practice, no source. */
const mostResistance = 1_000;

const dateSchema = z.iso.date({ error: 'must be a calendar date such as 2027-01-15' });

export const arcSensorsSchema = z.strictObject({
  arc: arcNumberSchema,
  voltagePickup: z.enum(voltagePickups).optional().meta({ description: 'Where the voltage is picked up: at the power source or at the contact tube' }),
  cableResistance: z.number().min(0).max(mostResistance).optional()
    .meta({ description: 'mΩ, of the way out and back together; a voltage picked up at the source is corrected by it before anything else' }),
  currentSensor: z.enum(currentSensors).optional(),
  signedCurrent: z.boolean().optional().meta({ description: 'Whether the current is sent with its sign; true if left out' }),
  signedVoltage: z.boolean().optional().meta({ description: 'Whether the voltage is sent with its sign; true if left out' }),
  serial: freeText(100).optional(),
  calibratedAt: dateSchema.optional(),
  calibrationDue: dateSchema.optional().meta({ description: 'The sensor may be used to the end of this day in the shop\'s zone' }),
});

const sensors = {
  travelSource: z.enum(travelSources).optional().meta({ description: 'setPoint and stopwatch: what is computed from it is declared, not measured' }),
  travelCalibrationDue: dateSchema.optional(),
  plateTemperaturePlace: z.enum(platePlaces).optional().meta({ description: 'Whether the plate temperature is taken ahead of the arcs or behind them' }),
  arcs: z.array(arcSensorsSchema).max(6).optional(),
};

/** What is declared of a carriage's sensors. */
export const sensorsRequestSchema = z
  .strictObject({ ...sensors, by: freeText(100).optional().meta({ description: 'Who declares it; local if left out' }) })
  .refine(({ arcs = [] }) => new Set(arcs.map(({ arc }) => arc)).size === arcs.length, { path: ['arcs'], error: 'must name each arc once' })
  .meta({ id: 'SensorsDeclaration' });

const declared = { revision: z.number().int().min(1), at: timeSchema.meta({ description: 'When it was declared' }), by: z.string() };

export const sensorsSchema = z.strictObject({ ...sensors, ...declared }).meta({ id: 'Sensors' });

/** The sensors of a run. */
export const runSensorsSchema = z
  .strictObject({ ...sensors, ...declared, pastDue: z.array(z.string()).meta({ description: 'What was past its due date when the run was lit: current arc N, voltage arc N, travel' }) })
  .meta({ id: 'RunSensors' });

export type SensorsAnswer = z.infer<typeof sensorsSchema>;
