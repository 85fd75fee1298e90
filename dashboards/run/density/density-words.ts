import { commonWords } from '../../shared/common-words.js';
import { catalogue } from '../../shared/words.js';

export const densityWords = catalogue({
  en: {
    ...commonWords.en,
    heading: 'Voltage and current together',
    what: 'How long the arc was at which voltage and current, sample by sample, regardless of sign. The darker a field, the longer.',
    range: (low: string, high: string) => `${low} to ${high}`,
    longest: (voltage: string, current: string, share: string) => `longest at ${voltage} and ${current} (${share} of the time)`,
    total: (time: string) => `${time} in all`,
  },
  zh: {
    ...commonWords.zh,
    heading: '电压与电流的联合分布',
    what: '逐个采样点统计电弧处于各电压、电流下的时间，不计正负号。颜色越深，时间越长。',
    range: (low: string, high: string) => `${low} 至 ${high}`,
    longest: (voltage: string, current: string, share: string) => `停留最久处：${voltage}、${current}（占 ${share}）`,
    total: (time: string) => `共 ${time}`,
  },
});
