import { readdirSync, readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../', import.meta.url));

interface SourceFile {
  /** From the top of the tree, with `/`. */
  readonly path: string;
  readonly text: string;
}

const sources = ['shared', 'services', 'dashboards', 'tests'].flatMap(filesBelow);

function filesBelow(folder: string): SourceFile[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx|mjs|css|html)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .map((file) => ({ path: relative(root, file).replaceAll('\\', '/'), text: readFileSync(file, 'utf8') }));
}

/** What a file imports: `path` within the tree, or the name of a package. Imports of types count as any other. */
function importsOf({ path, text }: SourceFile): string[] {
  const names = [...text.matchAll(/(?:^|\n)\s*(?:import|export)\s[^;'"]*?from\s*['"]([^'"]+)['"]|(?:^|\n)\s*import\s*['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]/g)];
  return names.map((found) => {
    const name = found[1] ?? found[2] ?? found[3] ?? '';
    return name.startsWith('.') ? join(dirname(path), name).replaceAll('\\', '/') : packageOf(name);
  });
}

function packageOf(name: string): string {
  if (name.startsWith('node:')) return name;
  const own = name.split('/').slice(0, name.startsWith('@') ? 2 : 1).join('/');
  return builtinModules.includes(own) ? `node:${own}` : own;
}

/** Where a folder's files may reach: folders and files of the tree, and packages. */
const mayImport: Readonly<Record<string, readonly string[]>> = {
  'shared/weld/': ['shared/weld/'],
  'shared/api-types': ['shared/api-types', 'shared/weld/', 'zod', '@asteasolutions/zod-to-openapi'],
  'shared/answers/': ['shared/answers/', 'shared/api-types', 'shared/weld/', 'shared/sqlite/', 'shared/traces/', 'shared/records/', 'kysely', 'zod', 'node:'],
  'shared/sqlite/': ['shared/sqlite/', '@photostructure/sqlite'],
  'shared/traces/': ['shared/traces/', 'shared/weld/', 'shared/sqlite/', 'node:'],
  'shared/records/': ['shared/records/', 'shared/weld/', 'shared/sqlite/', 'shared/traces/trace-change', 'kysely', 'node:'],
  'services/csv/': ['services/csv/', 'shared/weld/', 'csv-parse', 'node:'],
  'services/ingest/': [
    'services/ingest/', 'services/csv/', 'services/ingest-port', 'services/settings', 'shared/answers/', 'shared/api-types', 'shared/weld/', 'shared/sqlite/', 'shared/traces/', 'shared/records/',
    'mqtt', 'mqtt-packet', 'aedes', 'node:',
  ],
  'services/simulator/': ['services/simulator/', 'shared/weld/', 'mqtt', 'node:'],
  'services/api/': [
    'services/api/', 'services/ingest-port', 'shared/answers/', 'shared/api-types', 'shared/weld/', 'shared/traces/', 'shared/records/',
    'compression', 'express', 'express-rate-limit', 'helmet', 'kysely', 'pino', 'prom-client', 'zod', '@asteasolutions/zod-to-openapi', 'node:',
  ],
  'dashboards/': ['dashboards/', 'shared/api-types', 'shared/weld/', 'preact', '@preact/signals', 'uplot', 'vite'],
};

/** The folders of two large parts, each of which may import those before it; files beside them stand below all. */
const floors: Readonly<Record<string, readonly string[]>> = {
  'shared/weld/': ['items', 'cooling', 'procedure', 'temperatures', 'rows', 'arcs', 'judging', 'decode', 'run', 'figures', 'along', 'ahead', 'preparation', 'capability'],
  'services/ingest/': ['mqtt', 'fold', 'store', 'alarms', 'answers', 'records', 'writer', 'thread'],
};

/** What of ingest reads the store before a commit is computed, or carries out its changes. */
const gatherAndApply = [
  'services/ingest/store/', 'services/ingest/writer/gather-', 'services/ingest/writer/fold-again', 'services/ingest/writer/read-checkpoints', 'services/ingest/writer/stored-marks', 'services/ingest/writer/stream-access', 'services/ingest/writer/stream-load',
  'services/ingest/writer/count-stored', 'services/ingest/writer/check-account', 'services/ingest/thread/held-log', 'services/ingest/alarms/selected-alarms',
];
/** What puts gathering, computing and applying together, or asks for it. */
const putsTogether = [
  'services/ingest/writer/commit-pipeline', 'services/ingest/writer/committer',
  'services/ingest/writer/recorder', 'services/ingest/writer/take-batch', 'services/ingest/writer/refold-turns', 'services/ingest/writer/keep-house', 'services/ingest/writer/forget-import', 'services/ingest/thread/',
];

function folderOf(path: string): string | undefined {
  return Object.keys(mayImport).find((folder) => path.startsWith(folder));
}

function wrongImports(file: SourceFile, allowed: readonly string[]): string[] {
  const fits = (name: string): boolean => allowed.some((own) => (/[/:]$|^shared\/|^services\//.test(own) ? name.startsWith(own) : name === own));
  return importsOf(file).filter((name) => !fits(name));
}

describe('dependencies point one way', () => {
  const bounded = sources.filter(({ path }) => folderOf(path) !== undefined && /\.(ts|tsx)$/.test(path));

  it('sees the imports of every folder that is bounded', () => {
    for (const folder of Object.keys(mayImport)) {
      const files = bounded.filter(({ path }) => path.startsWith(folder));
      expect(files.length, folder).toBeGreaterThan(0);
      expect(files.flatMap(importsOf).length, folder).toBeGreaterThan(0);
    }
  });

  it('finds an import that goes the wrong way, however it is written', () => {
    const wrong = (text: string): string[] => wrongImports({ path: 'shared/weld/made.ts', text }, ['shared/weld/']);
    expect(wrong("import { a } from './row.js';\nexport * from './decode/printable.js';")).toEqual([]);
    expect(wrong("import type { A } from '../traces/trace-store.js';")).toEqual(['shared/traces/trace-store.js']);
    expect(wrong("import {\n  a,\n  b,\n} from 'node:fs';")).toEqual(['node:fs']);
    expect(wrong("import fs from 'fs';")).toEqual(['node:fs']);
    expect(wrong("export { a } from '../../services/main.js';")).toEqual(['services/main.js']);
    expect(wrong("import 'mqtt';")).toEqual(['mqtt']);
    expect(wrong("const { a } = await import('kysely');")).toEqual(['kysely']);
  });

  it.each(Object.entries(mayImport))('%s imports only what it may', (folder, allowed) => {
    const files = bounded.filter(({ path }) => path.startsWith(folder));
    expect(files.flatMap((file) => wrongImports(file, allowed).map((name) => `${file.path} imports ${name}`))).toEqual([]);
  });

  it.each(Object.entries(floors))('the folders of %s stand on those before them, and no file lies elsewhere', (part, folders) => {
    const floorOf = (name: string): number => {
      const [folder = '', file] = name.slice(part.length).split('/');
      return file === undefined ? -1 : folders.indexOf(folder);
    };
    const files = bounded.filter(({ path }) => path.startsWith(part) && path.endsWith('.ts'));
    const upwards = files.flatMap((file) => importsOf(file).filter((name) => name.startsWith(part) && floorOf(name) > floorOf(file.path)).map((name) => `${file.path} imports ${name}`));
    expect(upwards).toEqual([]);
    expect([...new Set(files.map(({ path }) => path.slice(part.length).split('/').slice(0, -1).join('/')))].sort()).toEqual(['', ...folders].sort());
  });

  it('lets ingest fold without a store: code that computes does not import code that reads or writes the store', () => {
    const ingest = bounded.filter(({ path }) => path.startsWith('services/ingest/') && !path.startsWith('services/ingest/mqtt/'));
    const database = ['shared/sqlite/sqlite-file.js', 'shared/records/open-database.js', 'shared/traces/sqlite-traces.js', 'kysely'];
    const touches = (path: string, parts: readonly string[]): boolean => parts.some((part) => path.startsWith(part));
    const wrong = ingest
      .filter(({ path }) => !touches(path, [...gatherAndApply, ...putsTogether]))
      .flatMap((file) => importsOf(file).filter((name) => database.includes(name) || touches(name, [...gatherAndApply, ...putsTogether])).map((name) => `${file.path} imports ${name}`));
    expect(wrong).toEqual([]);
    for (const part of [...gatherAndApply, ...putsTogether]) expect(ingest.some(({ path }) => path.startsWith(part)), part).toBe(true);
  });

  it('lets ingest know the time by the clock that it is handed; its sockets and the thread of HTTP have timers of their own', () => {
    const readers = bounded.filter(({ path, text }) => path.startsWith('services/ingest/') && /\bDate\.now\b|\bperformance\.now\b|\bset(Timeout|Interval|Immediate)\b/.test(withoutComments(text)));
    expect(readers.map(({ path }) => path).filter((path) => !path.startsWith('services/ingest/mqtt/'))).toEqual(['services/ingest/clock.ts', 'services/ingest/thread/run-imports.ts']);
  });

  it('keeps shared/weld free of clocks, chance and output', () => {
    const impure = /\bDate\.now\b|\bnew Date\(\)|\bperformance\b|\bMath\.random\b|\bsetTimeout\b|\bsetInterval\b|\bconsole\b|\bprocess\b|\bglobalThis\b|\bfetch\(/;
    const weld = sources.filter(({ path }) => path.startsWith('shared/weld/') && path.endsWith('.ts'));
    expect(weld.filter(({ text }) => impure.test(withoutComments(text))).map(({ path }) => path)).toEqual([]);
  });
});

describe('habits of the house', () => {
  const code = sources.filter(({ path }) => /\.(ts|tsx)$/.test(path));

  it('lets services/settings.ts alone read the environment', () => {
    const readers = code.filter(({ path, text }) => /^(shared|services|dashboards)\//.test(path) && /\bprocess\.env\b/.test(withoutComments(text)));
    expect(readers.map(({ path }) => path)).toEqual(['services/settings.ts']);
  });

  it('keeps every file under 300 lines', () => {
    const long = sources.map(({ path, text }) => [path, text.split('\n').length - 1] as const).filter(([, lines]) => lines > 300);
    expect(long).toEqual([]);
  });

  it('names every file in kebab-case', () => {
    const names = code.map(({ path }) => path.split('/').at(-1) ?? '').filter((name) => !/^[a-z0-9]+(-[a-z0-9]+)*(\.(test|config|d))?\.tsx?$/.test(name));
    expect(names).toEqual([]);
  });

  it('switches neither the types nor the lint off', () => {
    // Directives are at the start of a comment.
    const off = /(\/\/|\/\*)\s*(@ts-(ignore|nocheck|expect-error)|eslint-disable)/;
    expect(code.filter(({ text }) => off.test(text)).map(({ path }) => path)).toEqual([]);
  });
});

function withoutComments(text: string): string {
  return text.replaceAll(/\/\*[\s\S]*?\*\//g, '').replaceAll(/(^|\s)\/\/.*$/gm, '$1');
}
