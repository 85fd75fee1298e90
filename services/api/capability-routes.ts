import type { Kysely } from 'kysely';
import { z } from 'zod';
import type { AnsweredRuns } from '../../shared/answers/answered-runs.js';
import { valueOf } from '../../shared/answers/run-values.js';
import { capabilitySchema, type CapabilityAnswer } from '../../shared/api-types/capability.js';
import { procedureIdSchema } from '../../shared/api-types/procedure.js';
import { listRevisions } from '../../shared/records/procedures.js';
import type { Database } from '../../shared/records/tables.js';
import { capability } from '../../shared/weld/capability/capability.js';
import { capabilityNames } from '../../shared/weld/capability/capability-quantities.js';
import type { Window } from '../../shared/weld/procedure/run-windows.js';
import { toldAbsences, type Absences } from '../../shared/weld/run/absence.js';
import { chosenArc, chosenGroup, groupsOf, windowOf } from './capability-choice.js';
import { capabilityReader } from './capability-runs.js';
import { problemError } from './problem-error.js';
import { booleanQuery, textQuery, timeOf, timeQuery, wholeQuery } from './query-values.js';
import { route, type Route } from './route.js';

/** Capability of the runs of one procedure, in one quantity. */
export function capabilityRoutes(records: Kysely<Database>, answered: AnsweredRuns): Route[] {
  const read = capabilityReader(records, answered);
  return [
    route(
      {
        method: 'get', path: '/api/capability', group: 'procedures',
        summary: 'Individuals chart and capability of the finished production runs of a procedure, in one quantity',
        query: z.strictObject({
          procedure: procedureIdSchema,
          quantity: z.enum(capabilityNames),
          arc: wholeQuery(1, 6).meta({ description: 'Only for quantities of an arc; may be left out where the run group has only one' }),
          runGroup: textQuery.meta({ description: 'May be left out where there is only one, in the newest revision and among the runs' }),
          from: timeQuery.meta({ description: 'Runs that ended at this time or later' }),
          to: timeQuery.meta({ description: 'Runs that ended before this time' }),
          simulated: booleanQuery.meta({ description: 'true: invented runs count as well' }),
        }),
        answers: { 200: { description: 'The values of the runs, and what follows from them', schema: capabilitySchema } },
        problems: [404, 422],
      },
      async ({ query }) => {
        const { procedure, quantity, from, to, simulated = false } = query;
        const stored = await listRevisions(records, procedure);
        if (stored.length === 0) throw problemError(404, 'There is no procedure of this id.');
        const revisions = stored.map(groupsOf);
        const { runs, unreadable } = await read({ procedure, from: timeOf(from), to: timeOf(to), simulated });
        const runGroup = chosenGroup(query.runGroup, revisions, runs);
        const ofGroup = runs.filter((own) => own.runGroup === runGroup);
        const arc = chosenArc(query.arc, quantity, revisions[0] ?? [], runGroup, ofGroup);
        const valued = ofGroup.flatMap((run) => {
          const value = valueOf(run, quantity, arc);
          return value === null || run.endedAt === null ? [] : [{ run, value, endedAt: run.endedAt }];
        });
        const last = valued.at(-1)?.run;
        const window = last === undefined ? null : windowOf(revisions[stored.findIndex(({ revision }) => revision === last.revision)] ?? [], last, quantity, arc);
        const figures = figuresOf(valued.map(({ run, value, endedAt }) => ({ id: run.id, value, endedAt })), window);
        return { status: 200, body: { procedure, quantity, arc, runGroup, ...figures, ...(unreadable === 0 ? {} : { unreadable }) } satisfies CapabilityAnswer };
      },
    ),
  ];
}

type Figures = Omit<CapabilityAnswer, 'procedure' | 'quantity' | 'arc' | 'runGroup' | 'unreadable'>;

function figuresOf(runs: CapabilityAnswer['runs'], window: Window | null): Figures {
  const { signals, reasons: known, ...figures } = capability(runs.map(({ value }) => value), window);
  const reasons: Absences = { ...known };
  if (window === null) reasons['window'] = { code: runs.length === 0 ? 'noRuns' : 'noLimits' };
  return {
    window, runs, ...figures,
    signals: signals.map(({ rule, places }) => ({ rule, runs: places.flatMap((place) => runs[place]?.id ?? []) })),
    ...toldAbsences(reasons),
  };
}
