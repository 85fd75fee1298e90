/**
 * The last kept message that the marks of a boot hold: of those behind it, what counted is among the kept messages. Null where the marks were
 * written with every message, as they were until here.
 */
export const bootThrough: readonly string[] = ['ALTER TABLE boots ADD COLUMN through INTEGER'];
