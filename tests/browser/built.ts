import { fileURLToPath } from 'node:url';

/** Where `npm run build` has put the program and its pages; another build may be named to try that one. */
export const built = process.env['BUILT_IN'] ?? fileURLToPath(new URL('../../dist', import.meta.url));
