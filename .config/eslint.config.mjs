import tseslint from 'typescript-eslint';

/** Which folders a folder may import from; everything else is an error, so that dependencies point one way. */
const mayNot = (files, folders, why) => ({
  files,
  rules: {
    'no-restricted-imports': ['error', { patterns: [{ group: folders, message: why }] }],
  },
});

export default tseslint.config(
  { ignores: ['dist/**', '.cache/**', 'node_modules/**', 'data/**', '**/*.mjs'] },
  ...tseslint.configs.strictTypeChecked,
  {
    languageOptions: {
      parserOptions: {
        // The tests' project holds the program as well; what it knows of types is then worked out once.
        project: ['./tests/tsconfig.json', './dashboards/tsconfig.json'],
        tsconfigRootDir: `${import.meta.dirname}/..`,
      },
    },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      '@typescript-eslint/no-unnecessary-condition': ['error', { allowConstantLoopConditions: true }],
      'no-restricted-exports': ['error', { restrictDefaultExports: { direct: true } }],
      // There are no enums and hardly a class; these two rules alone took a third of the time.
      'no-restricted-syntax': ['error', { selector: 'TSEnumDeclaration', message: 'a list of texts `as const` says the same' }],
      '@typescript-eslint/no-unsafe-enum-assignment': 'off',
      '@typescript-eslint/no-unsafe-class-instance-assignment': 'off',
    },
  },
  { files: ['**/*.config.ts'], rules: { 'no-restricted-exports': 'off' } },
  mayNot(
    ['shared/weld/**'],
    ['node:*', '**/services/**', '**/traces/**', '**/records/**', '**/sqlite/**', '@photostructure/sqlite', 'kysely', 'mqtt', 'aedes', 'express', 'pino'],
    'shared/weld is pure: no clock, no I/O, no log, and it depends on nothing above it',
  ),
  mayNot(['shared/traces/**'], ['**/services/**', '**/records/**'], 'shared/traces depends on shared/weld alone'),
  mayNot(['shared/records/**'], ['**/services/**', '**/traces/**', '!**/traces/trace-change.js'], 'shared/records depends on shared/weld alone, and names what changes in a trace'),
  mayNot(
    ['dashboards/**'],
    ['**/services/**', '**/traces/**', '**/records/**', 'node:*'],
    'pages import the API types and pure code only',
  ),
  mayNot(['services/ingest/**', 'services/simulator/**'], ['**/services/api/**', '**/api/**', 'express'], 'ingest knows nothing of HTTP'),
  mayNot(['services/api/**'], ['**/ingest/**', '**/simulator/**', 'aedes', 'mqtt'], 'the API reaches ingest only through what main.ts hands it'),
);
