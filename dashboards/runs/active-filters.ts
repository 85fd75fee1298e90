import { wordsOf } from '../shared/words.js';
import type { RunFilter } from './run-filter.js';
import { runsWords } from './runs-words.js';

export const orderWords = { startedAt: 'byStart', seam: 'bySeam', length: 'byLength', excursions: 'byExcursions' } as const;

/** The filters that are set and the order, in words: "today, seam DK-0417/L2, excursions: with". The search is seen where it is typed. */
export function activeFilters(filter: RunFilter): string[] {
  const say = wordsOf(runsWords);
  const named = (label: string, value: string): string[] => (value === '' ? [] : [say.filterSet(label, value)]);
  const oneOf = (label: string, value: '' | 'true' | 'false', yes: string, no: string): string[] => named(label, value === '' ? '' : value === 'true' ? yes : no);
  return [
    ...(filter.period === '' ? [] : [say[filter.period]]),
    ...named(say.from, filter.from),
    ...named(say.to, filter.to),
    ...named(say.seam, filter.seam),
    ...named(say.carriageLabel, filter.carriage),
    ...(filter.state === '' ? [] : [say[filter.state]]),
    ...oneOf(say.excursions, filter.excursions, say.withExcursions, say.withoutExcursions),
    ...named(say.site, filter.site),
    ...named(say.runNumber(), filter.run),
    ...named(say.procedure, filter.procedure),
    ...named(say.operator, filter.operator),
    ...named(say.lot, filter.lot),
    ...oneOf(say.data, filter.complete, say.complete, say.incompleteOnly),
    ...oneOf(say.judgedHead, filter.judged, say.judged, say.notJudged),
    ...oneOf(say.assigned, filter.assigned, say.yes, say.no),
    ...(filter.order === '' ? [] : named(say.sortBy, say[orderWords[filter.order]])),
  ];
}
