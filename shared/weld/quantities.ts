/** How a quantity is sent by carriages, in the units of the API. */
interface Sent {
  readonly low: number;
  readonly high: number;
  /** Every reading must contain it. */
  readonly required: boolean;
  /** Its unit in SenML (RFC 8428, section 12.1), and the factor from that unit to the unit of the API. */
  readonly senml: { readonly unit: string; readonly factor: number };
  /** Other ways in which the header of a log may write the unit. */
  readonly alsoWritten?: readonly string[];
}

/** Limits that a procedure may give. */
interface Limited {
  /** Whether each arc has limits, or the whole run. */
  readonly of: 'arc' | 'run';
  /** Where they are used: along the run, before the arc start, against what was measured by then with an alarm as the arc starts, at the end of the run, or not yet at all. */
  readonly used: 'along' | 'beforeArc' | 'atArcStart' | 'atEnd' | 'notYet';
  /** Least and greatest number that a limit may be. */
  readonly least: number;
  readonly greatest?: number;
}

/** How the judged value is computed from the rows of a run. */
type JudgedBy =
  /** Mean of the row (RMS for an alternating arc), over the smoothing time. */
  | 'electric'
  /** Mean of the values that were sent, over the smoothing time. */
  | 'spread'
  /** Speed at which the carriage advanced, over the smoothing time. */
  | 'speed'
  /** Standard deviation over mean, for the last 10 s. */
  | 'variation'
  /** Along the seam, from energy over length there. */
  | 'alongSeam'
  /** Speed of the row in either direction. */
  | 'rowSpeed'
  /** Mean current of the row with its sign; none for an alternating row. */
  | 'rowSign';

interface Judged {
  readonly by: JudgedBy;
  /** Rows of the weld zone alone, as part of the record; or all rows, as no more than a warning. */
  readonly rows: 'weld' | 'all';
  /** How long it must be outside, s, where the procedure does not decide that. */
  readonly onDelay?: number;
  /** Whether the service predicts that it will leave its limits. */
  readonly drifts: boolean;
}

/** Columns of an arc's row: mean, time in s, integral of the square, least and greatest. */
type SpreadColumns = readonly [mean: string, time: string, squared: string, min: string, max: string];

interface Quantity {
  readonly of: 'arc' | 'carriage';
  /** Its unit in the API, and the number of decimals shown in that unit. */
  readonly unit: string;
  readonly decimals: number;
  readonly sent?: Sent;
  /** Its columns, if it is summed over time for each arc; mean, least, greatest and standard deviation are then figures of a run. */
  readonly spread?: SpreadColumns;
  readonly limits?: Limited;
  /** Only for quantities that are judged along the run. */
  readonly judged?: Judged;
  /** Priority of its alarm, unless the procedure says otherwise. */
  readonly priority?: 'high' | 'medium' | 'low';
}

const alongWeld = { rows: 'weld', drifts: true } as const;

/**
 * Every quantity that is sent, limited or judged. Decoding, logs, schemas, rows, judging, drift, alarms, traces, answers and pages read this table
 * and keep its order. The ranges of sent values are wide enough for any machine; common practice, no source.
 */
export const quantities = {
  current: {
    of: 'arc', unit: 'A', decimals: 0,
    sent: { low: -5000, high: 5000, required: true, senml: { unit: 'A', factor: 1 } },
    limits: { of: 'arc', used: 'along', least: 0 }, judged: { by: 'electric', ...alongWeld }, priority: 'medium',
  },
  voltage: {
    of: 'arc', unit: 'V', decimals: 1,
    sent: { low: -500, high: 500, required: true, senml: { unit: 'V', factor: 1 } },
    limits: { of: 'arc', used: 'along', least: 0 }, judged: { by: 'electric', ...alongWeld }, priority: 'medium',
  },
  travelSpeed: {
    of: 'carriage', unit: 'mm/min', decimals: 0,
    sent: { low: -20_000, high: 20_000, required: false, senml: { unit: 'm/s', factor: 60_000 } },
    limits: { of: 'run', used: 'along', least: 0 }, judged: { by: 'speed', ...alongWeld }, priority: 'medium',
  },
  wireFeedSpeed: {
    of: 'arc', unit: 'm/min', decimals: 2,
    sent: { low: -100, high: 100, required: false, senml: { unit: 'm/s', factor: 60 } },
    spread: ['wireFeedSpeed', 'feedTime', 'feedSquared', 'minFeed', 'maxFeed'],
    limits: { of: 'arc', used: 'along', least: 0 }, judged: { by: 'spread', ...alongWeld }, priority: 'medium',
  },
  travel: {
    of: 'carriage', unit: 'mm', decimals: 1,
    sent: { low: -1e7, high: 1e7, required: false, senml: { unit: 'm', factor: 1000 } },
  },
  plateTemperature: {
    of: 'carriage', unit: '°C', decimals: 0,
    sent: { low: -100, high: 1500, required: false, senml: { unit: 'Cel', factor: 1 }, alsoWritten: ['C', 'degC'] },
  },
  electrodeExtension: { of: 'arc', unit: 'mm', decimals: 0, limits: { of: 'arc', used: 'beforeArc', least: 0 }, priority: 'medium' },
  currentVariation: { of: 'arc', unit: '', decimals: 3, limits: { of: 'arc', used: 'along', least: 0 }, judged: { by: 'variation', rows: 'weld', drifts: false }, priority: 'medium' },
  voltageVariation: { of: 'arc', unit: '', decimals: 3, limits: { of: 'arc', used: 'along', least: 0 }, judged: { by: 'variation', rows: 'weld', drifts: false }, priority: 'medium' },
  heatInput: { of: 'carriage', unit: 'kJ/mm', decimals: 3, limits: { of: 'run', used: 'along', least: 0 }, judged: { by: 'alongSeam', rows: 'weld', drifts: true }, priority: 'medium' },
  meanHeatInput: { of: 'carriage', unit: 'kJ/mm', decimals: 3, priority: 'medium' },
  t85: { of: 'carriage', unit: 's', decimals: 1, limits: { of: 'run', used: 'along', least: 0 }, judged: { by: 'alongSeam', rows: 'weld', drifts: false }, priority: 'medium' },
  preheat: { of: 'carriage', unit: '°C', decimals: 0, limits: { of: 'run', used: 'atArcStart', least: -273.15, greatest: 2000 }, priority: 'medium' },
  interpassTemperature: { of: 'carriage', unit: '°C', decimals: 0, limits: { of: 'run', used: 'atArcStart', least: -273.15, greatest: 2000 }, priority: 'medium' },
  // A carriage that stands still while its arc burns, and a current with the wrong sign; both delays are common practice, no source.
  travelStopped: { of: 'carriage', unit: 'mm/min', decimals: 0, judged: { by: 'rowSpeed', rows: 'all', onDelay: 2, drifts: false }, priority: 'high' },
  polarity: { of: 'arc', unit: 'A', decimals: 0, judged: { by: 'rowSign', rows: 'all', onDelay: 1, drifts: false }, priority: 'high' },
  // Current over wire feed speed at the beginning of the weld.
  feedMismatch: { of: 'arc', unit: 'A·min/m', decimals: 0, priority: 'high' },
} as const satisfies Readonly<Record<string, Quantity>>;

type Table = typeof quantities;
export type QuantityName = keyof Table;

/** The quantities whose row in the table matches `Said`. */
type NameWhere<Said> = { [Name in QuantityName]: Table[Name] extends Said ? Name : never }[QuantityName];

export type SentName = NameWhere<{ readonly sent: object }>;
/** The quantities that are sent with every reading, and those that only some carriages send. */
export type RequiredName = NameWhere<{ readonly sent: { readonly required: true } }>;
export type OptionalName = Exclude<SentName, RequiredName>;
export type SpreadName = NameWhere<{ readonly spread: SpreadColumns }>;
export type SpreadColumn = Table[SpreadName]['spread'][number];
export type JudgedName = NameWhere<{ readonly judged: object }>;
export type ArcLimitName = NameWhere<{ readonly limits: { readonly of: 'arc' } }>;
export type RunLimitName = NameWhere<{ readonly limits: { readonly of: 'run' } }>;
export type JudgedArcName = JudgedName & ArcLimitName;
export type JudgedRunName = JudgedName & RunLimitName;
/** The quantities that are judged along the seam, by the heat input at each place. */
export type SeamJudgedName = NameWhere<{ readonly judged: { readonly by: 'alongSeam' } }>;
export type AlarmedName = ArcLimitName | RunLimitName | 'meanHeatInput';
export type MomentaryName = NameWhere<{ readonly judged: { readonly rows: 'all' } }>;
export type DriftingName = NameWhere<{ readonly judged: { readonly drifts: true } }>;
export type DriftingArcName = DriftingName & ArcLimitName;
export type DriftingRunName = DriftingName & RunLimitName;

const allNames = Object.keys(quantities) as QuantityName[];
const rowOf = (name: QuantityName): Quantity => quantities[name];
const isDrifting = (name: QuantityName): name is DriftingName => rowOf(name).judged?.drifts === true;
const isJudgedWeld = (name: QuantityName): boolean => rowOf(name).judged?.rows === 'weld';

// Each list is in the order of the table.
export const sentNames = allNames.filter((name): name is SentName => rowOf(name).sent !== undefined);
export const requiredNames = sentNames.filter((name): name is RequiredName => rowOf(name).sent?.required === true);
export const optionalNames = sentNames.filter((name): name is OptionalName => rowOf(name).sent?.required === false);
export const spreadNames = allNames.filter((name): name is SpreadName => rowOf(name).spread !== undefined);
export const arcLimitNames = allNames.filter((name): name is ArcLimitName => rowOf(name).limits?.of === 'arc');
export const runLimitNames = allNames.filter((name): name is RunLimitName => rowOf(name).limits?.of === 'run');
export const judgedArcNames = arcLimitNames.filter((name): name is JudgedArcName => isJudgedWeld(name));
export const judgedRunNames = runLimitNames.filter((name): name is JudgedRunName => isJudgedWeld(name));
export const seamJudgedNames = judgedRunNames.filter((name): name is SeamJudgedName => quantities[name].judged.by === 'alongSeam');
export const driftingArcNames = judgedArcNames.filter((name): name is DriftingArcName => isDrifting(name));
export const driftingRunNames = judgedRunNames.filter((name): name is DriftingRunName => isDrifting(name));

/** The quantities to which a procedure can give a priority and an action, those of arcs first. */
export const alarmedNames: readonly AlarmedName[] = [...arcLimitNames, ...allNames.filter((name): name is RunLimitName | 'meanHeatInput' => rowOf(name).limits?.of === 'run' || name === 'meanHeatInput')];

/** Priority of the alarm of a quantity, or of a condition that is not a quantity, where the procedure says nothing. */
export function priorityOf(name: string): 'high' | 'medium' | 'low' {
  const known: Readonly<Record<string, Quantity | undefined>> = quantities;
  return known[name]?.priority ?? 'high';
}
