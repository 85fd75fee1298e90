const tables = ['streams', 'boots', 'mark_pieces', 'assignments', 'runs', 'excursion_pieces', 'late', 'procedures', 'alarms', 'job_changes'] as const;

/**
 * CRC-32 of the rest of a row (`shared/records/row-sum.ts`); null for rows from before, which are trusted as they are until they are written
 * again. Whatever changes such a row without its checksum has to set that to null.
 */
export const rowSums: readonly string[] = tables.map((table) => `ALTER TABLE ${table} ADD COLUMN row_sum INTEGER`);
