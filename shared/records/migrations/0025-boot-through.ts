/**
 * The last kept message that the marks of a boot include; items that counted after it are among the kept messages. Null if the marks were
 * written with every message, as in earlier versions.
 */
export const bootThrough: readonly string[] = ['ALTER TABLE boots ADD COLUMN through INTEGER'];
