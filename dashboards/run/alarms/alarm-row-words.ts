import { commonWords, runWord } from '../../shared/common-words.js';
import { catalogue } from '../../shared/words.js';

/** Words of a run's alarms. */
export const alarmRowWords = catalogue({
  en: {
    ...commonWords.en,
    heading: () => `Alarms of this ${runWord()}`,
    none: () => `No alarms in this ${runWord()}.`,
    imported: () => 'No alarms: they are raised only while a carriage welds.',
    counted: (count: number, active: number, open: number) => [`${count} ${count === 1 ? 'alarm' : 'alarms'}`, ...(active > 0 ? [`${active} active`] : []), open > 0 ? `${open} not acknowledged` : 'all acknowledged'].join(', '),
    asking: 'Loading alarms …',
    failed: (reason: string) => `Alarms could not be loaded. ${reason}`,
    when: 'Raised',
    acknowledgedHead: 'Acknowledged',
    raised: (time: string) => `raised ${time}`,
    priority: (word: string) => `${word} priority`,
    acknowledged: (time: string, by: string) => `${time} by ${by}`,
    notAcknowledged: 'not acknowledged',
    withdrawn: (why: string) => `withdrawn: ${why}`,
    show: (text: string) => `Zoom to: ${text}`,
    line: (parts: readonly string[]) => parts.join(' · '),
    allOfCarriage: (carriage: string) => `All alarms of ${carriage}`,
  },
  zh: {
    ...commonWords.zh,
    heading: () => '本焊道的报警',
    none: () => '本焊道没有报警。',
    imported: () => '无报警：只有小车焊接时才产生报警。',
    counted: (count: number, active: number, open: number) => [`${count} 条报警`, ...(active > 0 ? [`${active} 条活动`] : []), open > 0 ? `${open} 条未确认` : '全部已确认'].join('，'),
    asking: '正在加载报警…',
    failed: (reason: string) => `无法加载报警。${reason}`,
    when: '发生',
    acknowledgedHead: '确认',
    raised: (time: string) => `发生于 ${time}`,
    priority: (word: string) => `优先级 ${word}`,
    acknowledged: (time: string, by: string) => `${time}，${by}`,
    notAcknowledged: '未确认',
    withdrawn: (why: string) => `已撤回：${why}`,
    show: (text: string) => `放大查看：${text}`,
    line: (parts: readonly string[]) => parts.join(' · '),
    allOfCarriage: (carriage: string) => `${carriage} 的全部报警`,
  },
});
