import { z } from 'zod';
import { judgedArcNames, judgedRunNames, spreadNames } from '../weld/quantities.js';
import { recordOf } from '../weld/rows/record-of.js';
import { arcNumberSchema, figureSchema, timeSchema } from './common.js';

const columnSchema = z.array(figureSchema);

/** `at` in degrees of a circumferential seam, by the axis. */
const degreesFields = {
  degrees: columnSchema.nullable().optional().meta({ description: 'Over travelled: at in degrees of a circumferential seam, never modulo 360; else null' }),
  seamDegrees: columnSchema.nullable().optional().meta({ description: 'Over seamPosition: at in degrees of a circumferential seam, never modulo 360; else null' }),
};

export const zoneSchema = z.enum(['runOn', 'ignition', 'weld', 'restart', 'crater', 'runOff', 'overlap']);

/** A stretch of a run that is one zone; places in mm travelled, null where no travel is known. */
export const zoneStretchSchema = z.strictObject({
  zone: zoneSchema,
  fromTime: timeSchema,
  toTime: timeSchema,
  fromTravelled: figureSchema,
  toTravelled: figureSchema,
  fromDegrees: figureSchema.optional().meta({ description: 'The same places in degrees of a circumferential seam; null where it is none' }),
  toDegrees: figureSchema.optional(),
  arcs: z.array(arcNumberSchema)
    .meta({ description: 'The arcs that were in this zone, none where it is weld; with unpassed those that did not pass there' }),
  unpassed: z.literal(true).optional().meta({ description: 'The other arcs were welding here, but not every arc of the run passed: heat input and cooling time are not judged, all other quantities are' }),
});

/**
 * The rows of a run in columns, thinned to buckets; least and greatest values are kept, null stands where there is no data.
 * External units; `at` in s or mm from the run's start, or in mm from the seam's datum.
 */
export const traceSchema = z
  .strictObject({
    axis: z.enum(['time', 'travelled', 'seamPosition']),
    unit: z.enum(['s', 'mm']),
    arcs: z.array(
      z.strictObject({
        arc: arcNumberSchema, at: columnSchema, ...degreesFields,
        current: columnSchema, currentMin: columnSchema, currentMax: columnSchema, voltage: columnSchema, voltageMin: columnSchema, voltageMax: columnSchema,
        travelSpeed: columnSchema, ...recordOf(spreadNames, () => columnSchema), heatInput: columnSchema, plateTemperature: columnSchema,
      }),
    ),
    judged: z
      .array(
        z.strictObject({
          quantity: z.string().meta({ description: `As the limit is named: ${[...judgedArcNames, ...judgedRunNames].join(', ')}` }),
          arc: arcNumberSchema.nullable(),
          at: columnSchema,
          ...degreesFields,
          value: columnSchema,
          min: columnSchema,
          max: columnSchema,
        }),
      )
      .optional()
      .meta({ description: 'With judged=true, for each limit: the very values that are judged, on which the ends and worst values of excursions lie; null where nothing was judged. A run without limits has none' }),
    rows: z.number().int().meta({ description: 'Stored rows of the asked part, all arcs together' }),
    zones: z.array(zoneStretchSchema).meta({ description: 'What the stretches of the whole run are, whatever part is asked for' }),
  })
  .meta({ id: 'Trace' });

/** Columns along the seam, one entry for each bin in the order in which they were reached. mm, kJ/mm, A, V, mm/min, s; `covered` is a share. */
export const profileSchema = z
  .strictObject({
    travelled: z.array(z.number()), seamPosition: z.array(z.number()),
    degrees: z.array(z.number()).nullable().optional().meta({ description: 'The same in degrees of a circumferential seam, never modulo 360; null where it is none' }), seamDegrees: z.array(z.number()).nullable().optional(), heatInput: columnSchema, current: columnSchema,
    voltage: columnSchema, travelSpeed: columnSchema,
    t85: columnSchema.meta({ description: 'Cooling time t8/5 by the heat input of the bin, s; for unalloyed and low-alloy steel' }), covered: z.array(z.number().min(0).max(1)), zone: z.array(zoneSchema.nullable()),
  })
  .meta({ id: 'Profile' });

export type Trace = z.infer<typeof traceSchema>;
export type ZoneStretch = z.infer<typeof zoneStretchSchema>;

const binSchema = z.number().int().min(0);

/** How long an arc was in which cell of voltage and current, in magnitudes; cells in which it never was are left out. */
export const densitySchema = z
  .strictObject({
    arc: arcNumberSchema,
    voltageStep: z.number().meta({ description: 'Width of a cell, V' }),
    currentStep: z.number().meta({ description: 'Width of a cell, A' }),
    cells: z.array(z.tuple([binSchema, binSchema, z.number()])).meta({ description: 'By voltage, then current: number of the voltage bin, of the current bin, each counted from 0, and s' }),
    seconds: z.number().meta({ description: 'Sum over the cells' }),
  })
  .meta({ id: 'Density' });

export type Density = z.infer<typeof densitySchema>;
