/** The shapes that stand beside words of state. */
export type MarkName = 'full' | 'half' | 'empty' | 'crossed' | 'warning' | 'alert' | 'square';
