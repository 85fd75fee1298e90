import { runWord } from '../../shared/run-word.js';

/** Words of the row of a run's alarms. */
export const alarmRowWords = {
  en: {
    heading: () => `Alarms of this ${runWord()}`,
    none: () => `No alarm was raised in this ${runWord()}.`,
    asking: 'Asking the service for the alarms …',
    failed: (reason: string) => `The alarms could not be read. ${reason}`,
    priority: (word: string) => `${word} priority`,
    withdrawn: (why: string) => `withdrawn: ${why}`,
    show: (text: string) => `Show in the traces: ${text}`,
  },
  zh: {
    heading: () => '本焊道的报警',
    none: () => '本焊道没有报警。',
    asking: '正在向服务请求报警……',
    failed: (reason: string) => `无法读取报警。${reason}`,
    priority: (word: string) => `优先级 ${word}`,
    withdrawn: (why: string) => `已撤回：${why}`,
    show: (text: string) => `在曲线中显示：${text}`,
  },
};
