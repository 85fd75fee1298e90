import type { SpreadName } from '../quantities.js';

/** Why a figure is missing: a code, and the values that its words need. Lengths mm, intervals ms. */
export type Absence =
  | { readonly code: keyof typeof plain }
  | { readonly code: 'shorter' | 'weldZoneShorter'; readonly length: number }
  | { readonly code: 'arcStanding'; readonly arc: number }
  | { readonly code: 'feedUnknown' | 'diameterUnknown'; readonly arcs: readonly number[] }
  | { readonly code: 'notSent' | 'notSentLately'; readonly quantity: SpreadName }
  | { readonly code: 'tooSlow'; readonly source: 'readings' | 'blocks' | 'both'; readonly interval: number }
  | { readonly code: 'procedureUnknown'; readonly procedure: string }
  | { readonly code: 'coolingUnknown'; readonly missing: readonly ('thickness' | 'temperature')[] }
  | { readonly code: 'plateTooHot'; readonly temperature: number };

/** Absences by the name of the figure. */
export type Absences = Record<string, Absence>;

const plain = {
  noTravel: 'neither travelSpeed nor travel was sent',
  placesUnknown: 'places are not known: neither travelSpeed nor travel was sent',
  noWeldZone: 'no length was welded outside ignition, crater and tabs',
  noEnergy: 'the arcs took no energy: voltage × current adds up to nothing, or to less',
  instant: 'the arc was seen for an instant only',
  noMean: 'there is no mean to relate it to',
  notCircumferential: 'the assignment names no work that turns under the carriage: motion "work" with a diameter',
  notAssigned: 'the run is not assigned',
  noAssignment: 'no assignment is in force',
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
  directCurrent: 'the current is direct',
  alternatingCurrent: 'the current alternates',
  unsigned: 'current or voltage is sent without its sign',
  rectified: 'it may be too great: current or voltage is sent without its sign, so that energy that flows back counts as energy of the arc',
  notCorrected: 'the voltage was not corrected for the cable',
  noSensors: 'no sensors were declared for the carriage before the arc was lit',
  noTravelSource: 'nothing was declared about where the travel comes from',
  noExtension: 'the assignment names no electrodeExtension',
  noExtensionLimits: 'no procedure gives limits for electrodeExtension',
  noSuchExtension: 'no extension would melt the wire at the rate at which it was fed',
  noSpoolMass: 'the assignment names no spoolMass',
  noRunGroup: 'no run group of the procedure covers the run',
  noRuns: 'no run has a value',
  fewRuns: 'fewer than two runs have a value',
  noSpread: 'all values are equal, and nothing can be divided by a spread of 0',
  noLimits: 'the procedure gives no limits for it',
  oneLimit: 'the procedure gives only one of the two limits',
  arcBurns: 'an arc burns',
  fewMeasurements: 'fewer than two temperatures were measured ahead since the arc went out',
  oneMeasurement: 'only one temperature was measured ahead since the arc went out',
  plateNotCooling: 'the plate did not cool from the last temperature but one to the last',
  plateAtAmbient: 'the last temperature is not above that of the shop',
  limitAtAmbient: 'the limit is not above the temperature of the shop',
  noTemperatureLimit: 'the procedure of the assignment in force has no such limit',
  spoolChanged: 'the spool was changed, and nobody entered how much is on the new one',
} as const;

/** The inputs of the cooling time that may be missing. */
const coolingInputs = {
  thickness: 'the assignment names no thickness',
  temperature: 'no temperature before the arc was measured that counts, and the assignment declares no preheat',
} as const;

/** The codes that need no values. */
export const plainCodes = Object.keys(plain) as (keyof typeof plain)[];

/** The reason in plain English, for readers of the API; pages word the code in the reader's language. */
export function absenceText(why: Absence): string {
  switch (why.code) {
    case 'shorter': return `the run is shorter than ${why.length} mm`;
    case 'weldZoneShorter': return `the weld zone of the arc is shorter than ${why.length} mm`;
    case 'feedUnknown': return `wireFeedSpeed of ${arcsText(why.arcs)} was not known for all of its arc time`;
    case 'diameterUnknown': return `neither the assignment nor the procedure names the wireDiameter of ${arcsText(why.arcs)}`;
    case 'arcStanding': return `arc ${why.arc} burnt without travel`;
    case 'notSent': return `no ${why.quantity} was sent`;
    case 'notSentLately': return `${why.quantity} was not sent in the last 10 s`;
    case 'tooSlow': return `${why.source === 'both' ? 'readings or blocks' : why.source} at ${why.interval} ms cannot show them`;
    case 'procedureUnknown': return `the procedure ${why.procedure} does not exist`;
    case 'coolingUnknown': return why.missing.map((own) => coolingInputs[own]).join('; ');
    case 'plateTooHot': return `the plate was at ${why.temperature} °C before the arc, and the time is that down to 500 °C`;
    default: return plain[why.code];
  }
}

function arcsText(arcs: readonly number[]): string {
  return `${arcs.length === 1 ? 'arc' : 'arcs'} ${arcs.join(', ')}`;
}

/** Both forms in which an answer says why figures are missing. */
export interface ToldAbsences {
  readonly absent: Readonly<Record<string, string>>;
  readonly reasons: Readonly<Absences>;
}

export function toldAbsences(reasons: Absences): ToldAbsences {
  return { absent: Object.fromEntries(Object.entries(reasons).map(([name, why]) => [name, absenceText(why)])), reasons };
}
