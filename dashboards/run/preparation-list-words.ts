export const preparationListWords = {
  en: {
    complete: 'All checks were complete.',
    missing: (count: number) => `${count} ${count === 1 ? 'check' : 'checks'} open (welding was not blocked):`,
    entered: 'Entered',
    last: (at: string, by: string | null) => `Last entered at the carriage ${at}${by === null ? '' : ` by ${by}`}.`,
  },
  zh: {
    complete: '各项检查均已完成。',
    missing: (count: number) => `${count} 项检查未完成（未阻止焊接）：`,
    entered: '已填写',
    last: (at: string, by: string | null) => `最后于 ${at} 在小车旁填写${by === null ? '' : `，填写人 ${by}`}。`,
  },
} as const;
