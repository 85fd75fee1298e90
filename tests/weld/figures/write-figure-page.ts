import { writeFileSync } from 'node:fs';
import { figurePage } from './figure-page.js';

writeFileSync(new URL('../../../shared/weld/figures/README.md', import.meta.url), figurePage());
