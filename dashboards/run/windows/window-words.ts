import { runWord } from '../../shared/common-words.js';
import { catalogue } from '../../shared/words.js';

/** Words of the windows that a run was judged by. */
export const windowWords = catalogue({
  en: {
    asking: 'loading limits …',
    unassigned: () => 'no job assigned.',
    notNamed: 'the job names no procedure.',
    unknown: (id: string) => `procedure ${id} not found.`,
    noGroup: (procedure: string, run: string) => `${procedure} has no limits for ${runWord()} ${run}.`,
    failed: (reason: string) => `the limits could not be loaded. ${reason}`,
    none: (why: string) => `No limits shown: ${why}`,
    known: (procedure: string, group: string | null) => `Limits of ${procedure}${group === null ? '' : `, ${group}`}`,
    revision: (id: string, revision: number) => `${id}, revision ${revision}`,
  },
  zh: {
    asking: '正在加载限值…',
    unassigned: () => '未分配任务。',
    notNamed: '任务未指定工艺规程。',
    unknown: (id: string) => `找不到工艺规程 ${id}。`,
    noGroup: (procedure: string, run: string) => `${procedure} 没有适用于焊道 ${run} 的限值。`,
    failed: (reason: string) => `无法加载限值。${reason}`,
    none: (why: string) => `未显示限值：${why}`,
    known: (procedure: string, group: string | null) => `限值：${procedure}${group === null ? '' : `，${group}`}`,
    revision: (id: string, revision: number) => `${id} 第 ${revision} 版`,
  },
});
