/** The printed part of a run; its API form has all of it. Units as in the API. */
export interface PrintedRun {
  readonly id: string;
  readonly site: string;
  readonly carriage: string;
  readonly seam: string | null;
  readonly run: number | null;
  readonly attempt: number;
  readonly startedAt: string;
  readonly endedAt: string | null;
  readonly arcTime: number | null;
  readonly length: number | null;
  readonly energy: number | null;
  readonly arcEnergy: number | null;
  readonly heatInput: number | null;
  /** Cooling time from 800 to 500 °C, s. */
  readonly t85?: { readonly value: number; readonly form: 'two-dimensional' | 'three-dimensional' } | null | undefined;
  /** Weld metal, kg. */
  readonly deposit?: { readonly mass: number | null } | null | undefined;
  readonly method: string;
  readonly complete: boolean;
  readonly excursions?: number | undefined;
  /** Why no limits applied to it; null if some did. */
  readonly notJudged?: 'unassigned' | 'noProcedure' | 'procedureUnknown' | 'noLimits' | null | undefined;
  readonly assignment?: { readonly procedure?: string | undefined } | null | undefined;
  readonly arcs: readonly { readonly arc: number; readonly current: { readonly mean: number | null } | null; readonly voltage: { readonly mean: number | null } | null }[];
  /** Reasons for values that are null, by name. */
  readonly absent: Readonly<Record<string, string>>;
}

/** A run as text, one figure a line; missing figures come with the reason. */
export function printRun(run: PrintedRun): string {
  const figure = (name: string, value: number | null, decimals: number, unit: string): string =>
    value === null ? `absent: ${run.absent[name] ?? 'not known'}` : `${value.toFixed(decimals)} ${unit}`;
  const welded = run.seam === null ? 'unassigned' : `${run.seam} run ${run.run ?? '?'}, attempt ${run.attempt}`;
  const rows: [string, string][] = [
    ['run', `${run.id} (${run.site}/${run.carriage})`],
    ['seam', welded],
    ['time', `${run.startedAt} to ${run.endedAt ?? 'now'}`],
    ['arc time', figure('arcTime', run.arcTime, 1, 's')],
    ['length', figure('length', run.length, 1, 'mm')],
    ['energy', figure('energy', run.energy, 1, 'kJ')],
    ['arc energy', figure('arcEnergy', run.arcEnergy, 3, 'kJ/mm')],
    ['heat input', `${figure('heatInput', run.heatInput, 3, 'kJ/mm')} (method: ${run.method})`],
    ...(run.t85 == null ? [] : [['t8/5', `${run.t85.value.toFixed(1)} s (${run.t85.form} heat flow; unalloyed and low-alloy steel)`] as [string, string]]),
    ...(run.deposit?.mass == null ? [] : [['weld metal', `${run.deposit.mass.toFixed(3)} kg`] as [string, string]]),
    ...run.arcs.map((arc): [string, string] => [
      `arc ${arc.arc}`,
      `${figure('current', arc.current?.mean ?? null, 1, 'A')}, ${figure('voltage', arc.voltage?.mean ?? null, 2, 'V')} on average`,
    ]),
    ...judgement(run).map((text): [string, string] => ['excursions', text]),
    ['record', run.complete ? 'complete' : 'incomplete: data is missing'],
  ];
  const width = Math.max(...rows.map(([name]) => name.length));
  return rows.map(([name, value]) => `${name.padEnd(width)}  ${value}`).join('\n');
}

/** How many excursions there are, or why there can be none: a run of which nothing was judged does not count as clean. */
function judgement({ excursions, notJudged, assignment }: PrintedRun): string[] {
  const reasons = {
    unassigned: 'no job was assigned',
    noProcedure: 'the job names no procedure',
    procedureUnknown: `procedure ${assignment?.procedure ?? ''} does not exist`,
    noLimits: 'the procedure has no limits for this run',
  };
  if (notJudged != null) return [`not judged: ${reasons[notJudged]}`];
  return excursions === undefined ? [] : [String(excursions)];
}
