/** The shapes that are shown beside words for a state. */
export type MarkName = 'full' | 'half' | 'empty' | 'crossed' | 'warning' | 'alert' | 'square';
