/** The shape of what is stored of a run as it is answered (`shared/answers/run-shape.ts`); null for those of before, which are looked at as they are read. */
export const recordShapes: readonly string[] = ['ALTER TABLE runs ADD COLUMN record_shape INTEGER'];
