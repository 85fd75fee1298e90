import { runWord } from '../../shared/run-word.js';

/** Words of the windows that a run was judged by. */
export const windowWords = {
  en: {
    asking: 'asking for the windows …',
    unassigned: () => `the ${runWord()} is not assigned, so no procedure is known.`,
    notNamed: 'the assignment names no procedure.',
    unknown: (id: string) => `the procedure ${id} does not exist.`,
    noGroup: (procedure: string, run: string) => `${procedure} has no ${runWord()} group for ${runWord()} ${run}.`,
    failed: (reason: string) => `the windows could not be read. ${reason}`,
    none: (why: string) => `No windows are drawn: ${why}`,
    known: (procedure: string, group: string | null) => `Windows of ${procedure}${group === null ? '' : `, ${group}`}`,
    revision: (id: string, revision: number) => `${id}, revision ${revision}`,
  },
  zh: {
    asking: '正在请求窗口……',
    unassigned: () => '焊道未分配任务，因而工艺规程未知。',
    notNamed: '任务未指定工艺规程。',
    unknown: (id: string) => `工艺规程 ${id} 不存在。`,
    noGroup: (procedure: string, run: string) => `${procedure} 中没有适用于第 ${run} 道的焊道组。`,
    failed: (reason: string) => `无法读取窗口。${reason}`,
    none: (why: string) => `未绘出窗口：${why}`,
    known: (procedure: string, group: string | null) => `窗口：${procedure}${group === null ? '' : `，${group}`}`,
    revision: (id: string, revision: number) => `${id} 第 ${revision} 版`,
  },
};
