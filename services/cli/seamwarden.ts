#!/usr/bin/env node
import { growAsNeeded, growLittle } from '../ingest/thread/heap-bounds.js';

growLittle();
const { runProgram } = await import('./run-program.js');
growAsNeeded();
await runProgram();
