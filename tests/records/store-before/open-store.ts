import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { brotliDecompressSync } from 'node:zlib';
import type { Answers } from './stored-answers.js';

const folder = fileURLToPath(new URL('./', import.meta.url));

/** The database as the earlier program left it. */
export function storeBefore(): Uint8Array {
  return brotliDecompressSync(readFileSync(`${folder}seamwarden.db.br`));
}

/** What that program answered of it. */
export function answersBefore(): Answers {
  return JSON.parse(readFileSync(`${folder}answers.json`, 'utf8')) as Answers;
}
