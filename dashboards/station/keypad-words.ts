export const keypadWords = {
  en: {
    space: 'Space',
    deleteLast: 'Delete the last character',
    keysOf: (keys: string, isBefore: boolean) => `${isBefore ? 'Previous' : 'Next'} keys: ${keys}`,
    take: 'OK',
  },
  zh: {
    space: '空格',
    deleteLast: '删除最后一个字符',
    keysOf: (keys: string, isBefore: boolean) => `${isBefore ? '前一组' : '后一组'}按键：${keys}`,
    take: '确定',
  },
};
