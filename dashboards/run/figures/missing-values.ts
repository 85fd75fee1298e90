import type { Run } from '../../../shared/api-types/run.js';
import { absentText, whyAbsent } from './absent-text.js';
import { arcFigures } from './arc-figure-list.js';
import { figureWords } from './figure-words.js';
import { runFigureGroups } from './run-figure-list.js';

/** Name and reason of each value that is missing. */
export function missingValues(run: Run): (readonly [string, string])[] {
  const ofArcs = new Map<string, { readonly label: string; readonly why: string; readonly arcs: number[] }>();
  for (const [place, figures] of arcFigures(run).entries()) {
    const arc = run.arcs[place]?.arc ?? place + 1;
    for (const { label, value, why, part } of figures) {
      if (value !== null || why === undefined || part === true) continue;
      const text = absentText(why);
      const key = `${label} ${text}`;
      const known = ofArcs.get(key);
      if (known === undefined) ofArcs.set(key, { label, why: text, arcs: [arc] });
      else known.arcs.push(arc);
    }
  }
  const say = figureWords();
  return [
    ...withoutRepeats(run.absent).map(({ name, key, text }) => [nameOf(run, name), absentText(whyAbsent(run, key) ?? text)] as const),
    ...[...ofArcs.values()].map(({ label, why, arcs }) => [arcs.length === run.arcs.length ? label : [label, ...arcs.map(say.arcInText)].join(say.comma), why] as const),
  ];
}

/**
 * What all of the deposit lacks for the same reason is listed once, as the deposit, and so are the degrees, which are those of the circumference.
 * `key`: the name under which the reason is given.
 */
function withoutRepeats(absent: Run['absent']): { readonly name: string; readonly key: string; readonly text: string }[] {
  const all = Object.entries(absent).filter(([key, text]) => key !== 'degrees' || text !== absent['circumference']).map(([key, text]) => ({ name: key, key, text }));
  const [first, ...rest] = all.filter(({ key }) => key.startsWith('deposit.'));
  if (first === undefined || rest.length < 4 || rest.some(({ text }) => text !== first.text)) return all;
  return all.flatMap((own) => (own === first ? [{ ...own, name: 'deposit' }] : rest.includes(own) ? [] : [own]));
}

/** The name of a field of the API; a field that these pages do not know keeps its own name. */
function nameOf(run: Run, name: string): string {
  const say = figureWords();
  const fixed: Readonly<Record<string, string>> = {
    lengths: say.ofLength, deposit: say.ofConsumables, electricity: say.ofConsumables, procedure: say.procedure, circumference: say.circumference, restarts: say.placesOfRestarts,
    dataGaps: say.placesOfGaps, endedAt: say.endOfRun, travel: say.travelSource, runGroup: say.runGroup, assignment: say.assignment, seam: say.seam, run: say.runLabel(), preparation: say.ofPreparation,
    sensors: say.ofSensors, temperatures: say.ofTemperatures, temperatureChecks: say.checksOfTemperatures, revisedAt: say.timeOfRevision, notJudged: say.ofNotJudged, litElsewhere: say.startedElsewhere,
  };
  const figure = runFigureGroups(run).flatMap(({ figures }) => figures).find(({ key }) => key === name || key.startsWith(`${name}.`));
  return fixed[name] ?? (figure === undefined ? name : figure.of === undefined || figure.part === true ? figure.label : `${figure.label}${say.comma}${figure.of}`);
}
