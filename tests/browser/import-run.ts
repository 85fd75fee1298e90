/** What of a log is read: mm/min and A, V at a second `t` of its `length`, or null where no line is written. */
export type LogValues = (t: number, length: number) => { readonly current: number; readonly voltage: number; readonly travelSpeed: number } | null;

/** A log at 10 Hz in CSV; a second of zeros follows, so that the arc goes out. */
export function csvLog(length: number, values: LogValues): string {
  const lines = ['time,current,voltage,travelSpeed'];
  for (let row = 0; row < length * 10; row += 1) {
    const t = row / 10;
    const at = values(t, length);
    if (at !== null) lines.push([t, at.current, at.voltage, at.travelSpeed].join(','));
  }
  for (let row = 0; row <= 10; row += 1) lines.push([(length * 10 + row) / 10, 0, 0, 0].join(','));
  return `${lines.join('\n')}\n`;
}

export const reviewProcedure = {
  id: 'SA-12',
  title: '20 mm butt, two sides',
  process: '121',
  thermalEfficiency: 1,
  runGroups: [
    {
      name: 'first side', side: 1, runs: [1, 1],
      arcs: [{ arc: 1, currentType: 'DC', polarity: 'EP', current: { min: 580, max: 680 }, voltage: { min: 28, max: 33 } }],
      travelSpeed: { min: 500, max: 650 },
      heatInput: { min: 1.5, max: 2.5 },
    },
  ],
} as const;

async function post(url: string, type: string, body: string): Promise<unknown> {
  const answer = await fetch(url, { method: 'POST', headers: { 'content-type': type }, body });
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${url} answered ${answer.status}: ${text}`);
  return JSON.parse(text);
}

export async function addProcedure(http: string, procedure: object): Promise<void> {
  await post(`${http}/api/procedures`, 'application/json', JSON.stringify(procedure));
}

/** Imports a log of hall-a; `assignment` as over MQTT. Gives back the run's id. */
export async function importLog(http: string, carriage: string, start: string, csv: string, assignment: Readonly<Record<string, unknown>>): Promise<string> {
  const query = new URLSearchParams({ carriage: `hall-a/${carriage}`, start, assignment: JSON.stringify(assignment), file: 'shell 12.csv', by: 'qa-2' });
  const answer = (await post(`${http}/api/imports?${query.toString()}`, 'text/csv', csv)) as { readonly runs: readonly string[] };
  const [run] = answer.runs;
  if (run === undefined) throw new Error(`the import answered ${JSON.stringify(answer)}`);
  return run;
}

/**
 * 60 s at 600 A, 30 V, 600 mm/min (10 mm/s, 1.8 kJ/mm), with 36 V from 20 to 30 s, the arc out from 40 to 45 s, and nothing sent
 * from 50 to 53 s. By hand, with a reading standing 1.0 s at most: data gap 50.9 to 53.0 s, 21 mm; length 550 mm, of which the arc's own 529 mm;
 * arc time 60 − 5 − 2.1 = 52.9 s; energy 18 · 42.9 + 21.6 · 10 = 988.2 kJ; heat input 988.2 / 529 = 1.868053 kJ/mm, 47.45 kJ/in.
 */
export const reviewLog: LogValues = (t) => {
  if (t >= 50 && t < 53) return null;
  if (t >= 40 && t < 45) return { current: 0, voltage: 0, travelSpeed: 0 };
  return { current: 600, voltage: t >= 20 && t < 30 ? 36 : 30, travelSpeed: 600 };
};

/** The excursion of that log lies from 200 mm travelled to 300 mm: half a step of voltage is at the limit. */
export const reviewAssignment = { seam: 'DK-0417/L2', run: 1, side: 1, procedure: reviewProcedure.id, startOffset: 1000, direction: -1, datum: 'punch mark frame 12' };
