import { commonWords } from './common-words.js';

/** Words for what will soon go wrong. */
export const warningWords = {
  en: {
    ofArc: commonWords.en.ofArc,
    leaves: (what: string, time: string, length: string | null) => `${what} will be out of limits in about ${time}${length === null ? '' : ` (${length})`}`,
    wireShort: (arc: number | null, length: string) => `Wire${arc === null ? '' : ` of arc ${arc}`} runs out ${length} before seam end`,
  },
  zh: {
    ofArc: commonWords.zh.ofArc,
    leaves: (what: string, time: string, length: string | null) => `${what}约 ${time}${length === null ? '' : `（${length}）`}后超出限值`,
    wireShort: (arc: number | null, length: string) => `${arc === null ? '' : `电弧 ${arc} 的`}焊丝在焊缝结束前 ${length} 用完`,
  },
};
