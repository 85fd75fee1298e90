import { defineConfig } from 'vite';

/** Builds the pages into dist/dashboards, from where the service serves them. */
export default defineConfig({
  root: import.meta.dirname,
  base: './',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: { outDir: '../dist/dashboards', emptyOutDir: true, sourcemap: false, target: 'es2022', chunkSizeWarningLimit: 1_000 },
});
