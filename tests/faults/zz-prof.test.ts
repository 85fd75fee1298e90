import { it } from 'vitest';
import { bombardOnly } from './hostile-scenario.js';
it('p', { timeout: 400_000 }, async () => { await bombardOnly(2000, 5); });
