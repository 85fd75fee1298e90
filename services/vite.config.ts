import { defineConfig } from 'vite';
import { foldShape } from './ingest/fold/fold-shape.js';

/**
 * Builds the service and the threads it starts into dist/services: few files, since reading and compiling a thousand small ones was more than half of
 * a start. They all lie in one folder, as a thread is started by the name of its file.
 */
export default defineConfig({
  root: import.meta.dirname,
  publicDir: false,
  define: { builtFoldShape: JSON.stringify(foldShape()) },
  ssr: { noExternal: true, external: ['@photostructure/sqlite'] },
  build: {
    ssr: true, outDir: '../dist/services', assetsDir: '', emptyOutDir: true, minify: false, sourcemap: true, target: 'node20', chunkSizeWarningLimit: 4_000, reportCompressedSize: false,
    rolldownOptions: {
      input: {
        seamwarden: 'cli/seamwarden.ts',
        'ingest-worker': 'ingest/thread/ingest-worker.ts',
        'damage-worker': 'ingest/thread/damage-worker.ts',
        'writer-thread': 'ingest/store/writer-thread.ts',
        'read-log-worker': 'csv/read-log-worker.ts',
      },
    },
  },
});
