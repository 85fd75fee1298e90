/** The shapes that stand beside words of state. */
export type MarkName = 'full' | 'empty' | 'crossed' | 'warning' | 'square';
