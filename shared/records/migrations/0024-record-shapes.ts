/** The shape of a stored run as it is answered (`shared/answers/run-shape.ts`); null for runs of earlier versions, which are examined as they are read. */
export const recordShapes: readonly string[] = ['ALTER TABLE runs ADD COLUMN record_shape INTEGER'];
