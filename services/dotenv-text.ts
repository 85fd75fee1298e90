import { isUtf8 } from 'node:buffer';
import { parseEnv } from 'node:util';
import { quotedSetting, SettingsError } from './setting-values.js';

const takes = 'expected lines of NAME=VALUE';

/** The text of a `.env` file, without the byte order mark that some editors write. Throws if it is not UTF-8, as with UTF-16. */
export function dotenvText(bytes: Uint8Array): string {
  const utf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  if (utf16 || bytes.includes(0) || !isUtf8(bytes)) throw new SettingsError(`.env: got text that is not UTF-8${utf16 ? ' but UTF-16' : ''}, expected UTF-8 (an editor says so when it saves)`);
  return Buffer.from(bytes).toString('utf8').replace(/^\uFEFF/, '');
}

/** The values of such a text by their names. Throws if a line is neither blank, a comment nor NAME=VALUE, as it would be ignored silently. */
export function parseDotenv(text: string): Record<string, string | undefined> {
  let open: string | null = null;
  for (const [place, line] of text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/).entries()) {
    if (open !== null) {
      // A value in quotes may run over several lines.
      if (line.includes(open)) open = null;
      continue;
    }
    if (/^\s*(#|$)/.test(line)) continue;
    const [, value] = /^\s*(?:export\s+)?[A-Za-z_][\w.-]*\s*=\s*(.*)$/.exec(line) ?? [];
    if (value === undefined) throw new SettingsError(`.env, line ${place + 1}: got ${quotedSetting(line.trim())}, ${takes}`);
    const quote = /^["'`]/.exec(value)?.[0];
    if (quote !== undefined && !value.slice(1).includes(quote)) open = quote;
  }
  return parseEnv(text.replace(/^\uFEFF/, ''));
}
