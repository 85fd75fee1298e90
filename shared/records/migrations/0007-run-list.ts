/** Whether a window counts as a limit by which a run is judged along its seam. */
const limitOfRun = `(t.key IN ('min', 'max') AND t.atom IS NOT NULL AND (t.path IN ('$.travelSpeed', '$.heatInput')
  OR (t.path LIKE '$.arcs[%' AND substr(t.path, instr(t.path, ']') + 1) IN ('.current', '.voltage', '.wireFeedSpeed', '.currentVariation', '.voltageVariation'))))`;

/** 1 if the run group of the run has any such limit, 0 if it has none or no group fits, null if there is no procedure. */
const judgedByGroup = `(SELECT EXISTS (SELECT 1 FROM json_tree(g.value) t WHERE ${limitOfRun})
  FROM procedures p, json_each(p.body, '$.runGroups') g
  WHERE p.id = json_extract(runs.record, '$.procedure.id') AND p.revision = json_extract(runs.record, '$.procedure.revision')
    AND runs.run BETWEEN json_extract(g.value, '$.runs[0]') AND json_extract(g.value, '$.runs[1]')
    AND (json_extract(g.value, '$.side') IS NULL OR json_extract(runs.record, '$.assignment.side') IS NULL
      OR json_extract(g.value, '$.side') = json_extract(runs.record, '$.assignment.side'))
  ORDER BY g.key LIMIT 1)`;

/**
 * What runs are found and sorted by, besides seam and carriage, in the one index that gives the order; and where a log came from. Runs of earlier versions
 * have the same as later ones: whether they were judged and why not, and that a log's file is not known.
 */
export const runList: readonly string[] = [
  `CREATE TABLE imports (
    stream_id INTEGER NOT NULL PRIMARY KEY REFERENCES streams (id),
    at INTEGER NOT NULL,
    file TEXT,
    "by" TEXT
  ) STRICT`,
  'ALTER TABLE runs ADD COLUMN procedure TEXT',
  'ALTER TABLE runs ADD COLUMN operator TEXT',
  // Every lot in a line of its own, with a line end before and behind it.
  'ALTER TABLE runs ADD COLUMN lots TEXT',
  'ALTER TABLE runs ADD COLUMN excursions INTEGER NOT NULL DEFAULT 0',
  'ALTER TABLE runs ADD COLUMN complete INTEGER NOT NULL DEFAULT 0',
  'ALTER TABLE runs ADD COLUMN judged INTEGER NOT NULL DEFAULT 0',
  // Only for finished runs: a run that is being welded grows several times a second.
  'ALTER TABLE runs ADD COLUMN length REAL',
  `UPDATE runs SET
    procedure = json_extract(record, '$.assignment.procedure'),
    operator = json_extract(record, '$.assignment.operator'),
    lots = (SELECT char(10) || group_concat(lot, char(10)) || char(10) FROM (
      SELECT json_extract(record, '$.assignment.fluxLot') AS lot
      UNION SELECT json_extract(a.value, '$.wireLot') FROM json_each(record, '$.assignment.arcs') a) WHERE lot IS NOT NULL),
    excursions = json_extract(record, '$.excursions'),
    complete = json_extract(record, '$.complete'),
    judged = coalesce(${judgedByGroup}, 0),
    length = CASE WHEN state = 'finished' THEN json_extract(record, '$.length') END`,
  `UPDATE runs SET record = json_set(record,
    '$.judged', json(CASE WHEN judged = 1 THEN 'true' ELSE 'false' END),
    '$.notJudged', CASE WHEN judged = 1 THEN NULL
      WHEN assigned = 0 THEN 'unassigned'
      WHEN procedure IS NULL THEN 'noProcedure'
      WHEN json_extract(record, '$.procedure') IS NULL THEN 'procedureUnknown'
      ELSE 'noLimits' END,
    '$.origin', json_object('kind', CASE WHEN (SELECT stream FROM streams WHERE id = stream_id) = '' THEN 'live' ELSE 'log' END, 'file', NULL, 'at', NULL, 'by', NULL))`,
  'DROP INDEX runs_by_start',
  'CREATE INDEX runs_by_start ON runs (started DESC, id DESC, seam, carriage, site, state, assigned, run, procedure, operator, lots, excursions, complete, judged, length)',
];
