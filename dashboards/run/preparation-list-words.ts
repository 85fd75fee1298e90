export const preparationListWords = {
  en: {
    complete: 'Nothing that is asked for was missing.',
    missing: (count: number) => `${count} missing or outside; it stopped nobody:`,
    entered: 'Entered',
    last: (at: string, by: string | null) => `Last entered at the carriage ${at}${by === null ? '' : ` by ${by}`}.`,
  },
  zh: {
    complete: '要求的各项均不缺。',
    missing: (count: number) => `${count} 项缺少或超出，未阻止焊接：`,
    entered: '已填写',
    last: (at: string, by: string | null) => `最后于 ${at} 在小车旁填写${by === null ? '' : `，填写人 ${by}`}。`,
  },
} as const;
