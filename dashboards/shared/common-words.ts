/** Words that mean the same wherever they stand. */
export const commonWords = {
  en: {
    retry: 'Retry',
  },
  zh: {
    retry: '重试',
  },
};
