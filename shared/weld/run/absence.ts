import type { SpreadName } from '../quantities.js';

/** Why a figure is missing: a code, and the values that its words need. Lengths mm, intervals ms. */
export type Absence =
  | { readonly code: keyof typeof plain }
  | { readonly code: 'shorter'; readonly length: number }
  | { readonly code: 'arcStanding'; readonly arc: number }
  | { readonly code: 'notSent' | 'notSentLately'; readonly quantity: SpreadName }
  | { readonly code: 'tooSlow'; readonly source: 'readings' | 'blocks' | 'both'; readonly interval: number }
  | { readonly code: 'procedureUnknown'; readonly procedure: string };

/** Absences by the name of the figure. */
export type Absences = Record<string, Absence>;

const plain = {
  noTravel: 'neither travelSpeed nor travel was sent',
  placesUnknown: 'places are not known: neither travelSpeed nor travel was sent',
  noWeldZone: 'no length was welded outside ignition, crater and tabs',
  instant: 'the arc was seen for an instant only',
  noMean: 'there is no mean to relate it to',
  notAssigned: 'the run is not assigned',
  noProcedure: 'the assignment names no procedure',
  notFinished: 'the run is not finished',
  notNoted: 'it was not noted when the run was recorded',
  rowsLost: 'it was not worked out when the run was recorded, and its rows can no longer be read',
  noSeamLength: 'the assignment names no seamLength',
  atEnd: 'the length to weld has been travelled',
  arcOff: 'no arc burns',
  standing: 'the carriage stands',
  goingBack: 'the carriage goes back',
  noFeed: 'no wire is fed',
  noDiameter: 'neither the assignment nor the procedure names a wireDiameter',
  noSpoolMass: 'the assignment names no spoolMass',
  arcBurns: 'an arc burns',
  fewMeasurements: 'fewer than two temperatures were measured ahead since the arc went out',
  plateNotCooling: 'the plate did not cool from the last temperature but one to the last',
  plateAtAmbient: 'the last temperature is not above that of the shop',
  limitAtAmbient: 'the limit is not above the temperature of the shop',
  noTemperatureLimit: 'the procedure of the assignment in force has no such limit',
  spoolChanged: 'the spool was changed, and nobody entered how much is on the new one',
} as const;

/** The codes that need no values. */
export const plainCodes = Object.keys(plain) as (keyof typeof plain)[];

/** The reason in plain English, for readers of the API; pages word the code in the reader's language. */
export function absenceText(why: Absence): string {
  switch (why.code) {
    case 'shorter': return `the run is shorter than ${why.length} mm`;
    case 'arcStanding': return `arc ${why.arc} burnt without travel`;
    case 'notSent': return `no ${why.quantity} was sent`;
    case 'notSentLately': return `${why.quantity} was not sent in the last 10 s`;
    case 'tooSlow': return `${why.source === 'both' ? 'readings or blocks' : why.source} at ${why.interval} ms cannot show them`;
    case 'procedureUnknown': return `the procedure ${why.procedure} does not exist`;
    default: return plain[why.code];
  }
}

/** Both forms in which an answer says why figures are missing. */
export interface ToldAbsences {
  readonly absent: Readonly<Record<string, string>>;
  readonly reasons: Readonly<Absences>;
}

export function toldAbsences(reasons: Absences): ToldAbsences {
  return { absent: Object.fromEntries(Object.entries(reasons).map(([name, why]) => [name, absenceText(why)])), reasons };
}
