// Checks the types of tests and pages, then lints everything with what the compiler has worked out so far: what `npm run typecheck` and `npm run lint` find, at less cost.
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ESLint } from 'eslint';
import ts from 'typescript';

const root = fileURLToPath(new URL('../../', import.meta.url));

function programOf(project) {
  const file = join(root, project, 'tsconfig.json');
  const { options, fileNames, errors } = ts.parseJsonConfigFileContent(ts.readConfigFile(file, ts.sys.readFile).config, ts.sys, dirname(file));
  return ts.createProgram({ rootNames: fileNames, options, configFileParsingDiagnostics: errors });
}

/** What the compiler has against a program, as it says it. */
function typeErrors(program) {
  return ts.formatDiagnosticsWithColorAndContext(ts.getPreEmitDiagnostics(program), { getCurrentDirectory: () => root, getCanonicalFileName: (name) => name, getNewLine: () => '\n' });
}

async function lintErrors(programs) {
  const eslint = new ESLint({ cwd: root, overrideConfigFile: '.config/eslint.config.mjs', overrideConfig: { languageOptions: { parserOptions: { project: null, programs } } } });
  const found = (await eslint.lintFiles(['.'])).filter(({ errorCount, warningCount }) => errorCount + warningCount > 0);
  return found.length === 0 ? '' : await (await eslint.loadFormatter('stylish')).format(found);
}

// Those of the tests hold the program as well.
const programs = ['tests', 'dashboards'].map(programOf);
const problems = [...programs.map(typeErrors), await lintErrors(programs)].filter((text) => text !== '');
process.stdout.write(problems.join('\n'));
process.exitCode = problems.length === 0 ? 0 : 1;
