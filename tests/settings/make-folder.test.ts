import { existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { makeFolder } from '../../services/make-folder.js';

let folder: string;
beforeEach(() => { folder = mkdtempSync(join(tmpdir(), 'seamwarden-make-')); });
afterEach(() => { rmSync(folder, { recursive: true, force: true }); });

it('creates a folder with those above it, and leaves an existing one alone', () => {
  const deep = join(folder, 'a', 'b', 'c');
  makeFolder(deep);
  makeFolder(deep);
  expect(statSync(deep).isDirectory()).toBe(true);
});

it('says so if there is a file in its place', () => {
  const file = join(folder, 'file');
  writeFileSync(file, '');
  expect(() => { makeFolder(file); }).toThrow(`${file} is no folder`);
  expect(() => { makeFolder(join(file, 'below')); }).toThrow();
});

// Nobody may make a folder there (proc(5)); the recursive call of Node does not come back from it.
it.skipIf(!existsSync('/proc/self'))('ends with an error where nobody may make one', { timeout: 5_000 }, () => {
  expect(() => { makeFolder('/proc/x/data'); }).toThrow(/ENOENT|EACCES|EPERM/);
});
