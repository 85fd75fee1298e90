import { commonWords } from '../shared/common-words.js';
import { catalogue } from '../shared/words.js';

/** Words of the list of refused messages. */
export const refusedWords = catalogue({
  en: {
    ...commonWords.en,
    heading: 'Refused messages',
    intro: 'These messages could not be used. The reason says what was wrong and what is accepted. The sender got no error: MQTT has no way to report one.',
    counted: (shown: string, total: string, time: string) => `${shown === total ? `${total} ${total === '1' ? 'message' : 'messages'}` : `Latest ${shown} of ${total} messages`}. Updated ${time}`,
    since: 'Received',
    topic: 'Topic',
    size: 'Size',
    bytes: (count: string) => `${count} B`,
    head: 'Begins with',
    none: 'No refused messages',
    noneMore: 'All messages received could be used.',
    older: 'Show older ones',
    caption: 'Refused messages, the latest first',
    which: 'Which messages',
  },
  zh: {
    ...commonWords.zh,
    heading: '被拒收的消息',
    intro: '这些消息无法使用。“原因”说明错在哪里以及应当如何填写；发送方不会收到错误提示，因为 MQTT 没有这种机制。',
    counted: (shown: string, total: string, time: string) => `${shown === total ? `共 ${total} 条` : `最近 ${shown} 条，共 ${total} 条`}。更新于 ${time}`,
    since: '接收时间',
    topic: '主题',
    size: '大小',
    bytes: (count: string) => `${count} B`,
    head: '开头内容',
    none: '没有被拒收的消息',
    noneMore: '收到的消息全部可用。',
    older: '显示更早的',
    caption: '被拒收的消息，最近的在前',
    which: '筛选消息',
  },
});
