import { createHash } from 'node:crypto';
import type { LogOutline, LogSource } from '../../services/csv/csv-log.js';
import { logItems } from '../../services/csv/log-items.js';
import { numberMessages } from '../../services/csv/number-messages.js';
import { outlineLog } from '../../services/csv/outline-log.js';
import type { Item } from '../../shared/weld/items/item.js';

export interface ParsedLog extends Omit<LogOutline, 'items'> {
  readonly messages: readonly (readonly Item[])[];
  readonly items: readonly Item[];
  readonly refusedLines: number;
}

/** All of a log at once, read as the service reads it; `piece` characters at a time. */
export function parseLog(text: string, { start, piece = 7 }: { readonly start: number | null; readonly piece?: number }): ParsedLog {
  const plain = text.replace(/^\uFEFF/, '');
  const source: LogSource = { pieces: () => pieces(plain, piece), ending: plain.includes('\n') ? '\n' : '\r', start };
  const outline = outlineLog(source);
  const boot = `log-${createHash('sha256').update(plain).digest('hex').slice(0, 32)}`;
  const messages = outline.failure === null ? [...numberMessages(logItems(source, outline), boot)] : [];
  return { ...outline, messages, items: messages.flat() };
}

function* pieces(text: string, size: number): Generator<string, void> {
  for (let from = 0; from < text.length; from += size) yield text.slice(from, from + size);
}
