import type { ExcursionAnswer } from '../../shared/api-types/excursion.js';
import type { StoredRun } from '../../shared/records/runs.js';
import type { judgedTrace } from '../../shared/weld/along/judged-trace.js';
import type { Profile } from '../../shared/weld/along/profile.js';
import { judgedArcNames, judgedRunNames, quantities, spreadNames, type QuantityName } from '../../shared/weld/quantities.js';
import type { Trace } from '../../shared/weld/along/thin-trace.js';
import { csvAnswer, timesIn, type Cell } from './csv-text.js';
import type { Answer } from './route.js';

type CsvRun = Pick<StoredRun, 'id' | 'seam' | 'run' | 'started'>;
/** Degrees stand in sheets of circumferential seams only. */
interface InDegrees {
  readonly degrees: readonly (number | null)[] | null;
  readonly seamDegrees: readonly (number | null)[] | null;
}
type TraceWithJudged = Omit<Trace, 'arcs'> & { readonly arcs: readonly (Trace['arcs'][number] & InDegrees)[]; readonly judged?: readonly (ReturnType<typeof judgedTrace>[number] & InDegrees)[] };

function nameOf({ id, seam, run }: CsvRun, what: string): string {
  return seam === null ? `run-${id}-${what}` : `${seam}-run-${run ?? ''}-${what}`;
}

const columns = ['current', 'currentMin', 'currentMax', 'voltage', 'voltageMin', 'voltageMax', 'travelSpeed', ...spreadNames, 'heatInput', 'plateTemperature'] as const;
/** Judged, but in no row. */
const variations = [...judgedArcNames, ...judgedRunNames].filter((name): name is Exclude<typeof name, (typeof columns)[number]> => !(columns as readonly string[]).includes(name));

/** `currentMin [A]`; a share has no unit. */
function headed(column: string): string {
  const { unit } = quantities[column.replace(/(?:Min|Max)$/, '') as QuantityName];
  return unit === '' ? column : `${column} [${unit}]`;
}

/**
 * A trace, row by row: first what was recorded for each arc (`rows`), then the values that are compared with limits (`judged`). Their arc is empty if they belong to the carriage or to all arcs.
 * Over the time axis, each row has its time in the plant's zone.
 */
export function traceCsv(run: CsvRun, trace: TraceWithJudged, zone: string): Answer {
  const timeText = timesIn(zone);
  const time = (at: number | null): Cell => (trace.axis !== 'time' || at === null ? null : timeText(run.started / 1000 + at * 1000));
  const judged = trace.judged ?? [];
  const round = trace.axis === 'seamPosition' ? 'seamDegrees' : 'degrees';
  const isRound = [...trace.arcs, ...judged].some((own) => own[round] !== null);
  const degrees = (own: InDegrees, index: number): Cell[] => (isRound ? [own[round]?.[index] ?? null] : []);
  const header = [
    'line', 'arc', 'time', trace.axis === 'time' ? 'at [s]' : `${trace.axis} [mm]`, ...(isRound ? [`${round} [°]`] : []),
    ...columns.map(headed), ...variations.map(headed), 'min', 'max',
  ];
  function* rows(): Generator<readonly Cell[]> {
    for (const arc of trace.arcs) for (const [index, at] of arc.at.entries()) yield ['rows', arc.arc, time(at), at, ...degrees(arc, index), ...columns.map((name) => arc[name][index]), ...variations.map(() => null), null, null];
    for (const own of judged) {
      const { quantity, arc, at, value, min, max } = own;
      const of = (name: string, index: number): Cell => (name === quantity ? value[index] : null);
      for (const [index, place] of at.entries()) {
        yield ['judged', arc, time(place), place, ...degrees(own, index), ...columns.map((name) => of(name, index)), ...variations.map((name) => of(name, index)), min[index], max[index]];
      }
    }
  }
  return csvAnswer(nameOf(run, 'trace'), header, rows());
}

/** A profile, bin by bin. */
export function profileCsv(run: CsvRun, profile: Profile & InDegrees): Answer {
  const { travelled, seamPosition, degrees, seamDegrees, heatInput, current, voltage, travelSpeed, t85, covered, zone } = profile;
  const round = degrees === null || seamDegrees === null ? null : { degrees, seamDegrees };
  const header = ['travelled [mm]', 'seamPosition [mm]', ...(round === null ? [] : ['degrees [°]', 'seamDegrees [°]']), 'heatInput [kJ/mm]', 'current [A]', 'voltage [V]', 'travelSpeed [mm/min]', 't85 [s]', 'covered', 'zone'];
  return csvAnswer(nameOf(run, 'profile'), header, travelled.map((at, bin) => [at, seamPosition[bin], ...(round === null ? [] : [round.degrees[bin], round.seamDegrees[bin]]), heatInput[bin], current[bin], voltage[bin], travelSpeed[bin], t85[bin], covered[bin], zone[bin]]));
}

/** The excursions of a run, the oldest first, with their times in the plant's zone. */
export function excursionsCsv(run: CsvRun, excursions: readonly ExcursionAnswer[], zone: string): Answer {
  const timeText = timesIn(zone);
  const time = (text: string | null): Cell => (text === null ? null : timeText(Date.parse(text)));
  const isRound = excursions.some(({ fromDegrees }) => fromDegrees !== null);
  const header = [
    'seam', 'run', 'quantity', 'arc', 'limit', 'worst', 'from', 'to', 'fromTravelled [mm]', 'toTravelled [mm]', 'fromSeamPosition [mm]', 'toSeamPosition [mm]',
    ...(isRound ? ['fromDegrees [°]', 'toDegrees [°]', 'fromSeamDegrees [°]', 'toSeamDegrees [°]'] : []), 'id',
  ];
  return csvAnswer(
    nameOf(run, 'excursions'),
    header,
    excursions.map((own) => [run.seam, run.run, own.quantity, own.arc, own.limit, own.worst, time(own.fromTime), time(own.toTime), own.fromTravelled, own.toTravelled, own.fromSeamPosition, own.toSeamPosition, ...(isRound ? [own.fromDegrees, own.toDegrees, own.fromSeamDegrees, own.toSeamDegrees] : []), own.id]),
  );
}
