import { z } from 'zod';

/** The cooling time t8/5 and what it was computed from. */
export const coolingSchema = z
  .strictObject({
    value: z.number().meta({ description: 't8/5, s: the greater of the two- and the three-dimensional form' }),
    form: z.enum(['two-dimensional', 'three-dimensional']),
    transitionThickness: z.number().meta({ description: 'mm; up to it the form is two-dimensional' }),
    heatInput: z.number().meta({ description: 'Of the weld zone, kJ/mm' }),
    thickness: z.number().meta({ description: 'Of the assignment, mm' }),
    f2: z.number(),
    f3: z.number(),
    temperature: z.number().meta({ description: 'Of the plate before the arc, °C' }),
    temperatureFrom: z.enum(['preheat', 'interpass', 'declared']).meta({ description: 'The kind of the measurement, or declared: the preheat of the assignment' }),
  })
  .meta({
    id: 'CoolingTime',
    description: 'Time of cooling from 800 to 500 °C by EN 1011-2:2001, annex D. It holds for unalloyed and low-alloy steel. Null where thickness, temperature before the arc or heat input is not known, and where the plate is at 500 °C or more',
  });
