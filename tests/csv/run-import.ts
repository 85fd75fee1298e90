import { readFileSync, writeFileSync } from 'node:fs';
import { importCommand } from '../../services/cli/import-command.js';
import type { ImportOutcome } from '../../services/cli/import-command.js';
import type { ImportRequest } from '../../services/ingest-port.js';
import { parseLog } from './parse-log.js';

// The real command, run as a process of its own by the test; what stands behind it shows the request in REQUEST_FILE and
// answers as a service that stores every item, or as OUTCOME says.
await importCommand((request, file) => Promise.resolve(answer(request, readFileSync(file, 'utf8')))).parseAsync();

function answer(rest: ImportRequest, csv: string): ImportOutcome {
  if (process.env.REQUEST_FILE !== undefined) writeFileSync(process.env.REQUEST_FILE, JSON.stringify(rest));
  if (process.env.OUTCOME === 'storage') return { answer: { failed: 'storage', reason: 'the disk is full' }, runs: [] };
  const log = parseLog(csv, { start: rest.start });
  if (log.failure !== null) return { answer: { failed: 'invalid', reason: log.failure }, runs: [] };
  const stored = process.env.OUTCOME === 'again' ? 0 : log.items.length;
  if (log.items.length === 0) return { answer: { failed: 'invalid', reason: 'the log holds no line that can be used' }, runs: [] };
  const { lines, refusedLines, refused } = log;
  const imported = { runs: ['r1'], stored, duplicate: log.items.length - stored, lines, refusedLines, refused, also: [] };
  const run = {
    id: 'r1',
    site: rest.site,
    carriage: rest.carriage,
    seam: rest.assignment?.seam ?? null,
    run: rest.assignment?.run ?? null,
    attempt: 1,
    startedAt: new Date((log.items[0]?.time ?? 0) / 1000).toISOString(),
    endedAt: null,
    arcTime: 1.25,
    length: null,
    energy: 18,
    arcEnergy: null,
    heatInput: null,
    method: 'average',
    complete: false,
    excursions: 0,
    notJudged: rest.assignment?.procedure === undefined ? null : ('procedureUnknown' as const),
    assignment: rest.assignment,
    arcs: [{ arc: 1, current: { mean: 600 }, voltage: { mean: 30 } }],
    absent: { length: 'no travel was sent', arcEnergy: 'no travel was sent' },
  };
  return { answer: imported, runs: [run] };
}
