/** CRC-32 of a record's text (`shared/records/record-sum.ts`); null for those of before, which are answered as they are until they are written again. */
export const recordSums: readonly string[] = ['ALTER TABLE runs ADD COLUMN record_sum INTEGER', 'ALTER TABLE alarms ADD COLUMN record_sum INTEGER'];
