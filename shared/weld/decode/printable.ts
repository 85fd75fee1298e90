/**
 * Characters that are not printable: control and format characters (among them those that reverse the direction of text and could make a log line
 * look like another), lone surrogates, and line and paragraph separators. Unicode general categories.
 */
const unprintable = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u;
const everyUnprintable = new RegExp(unprintable.source, 'gu');
const headLength = 256;

/** The text with every unprintable character replaced by U+FFFD. */
export function makePrintable(text: string): string {
  return text.replace(everyUnprintable, '\uFFFD');
}

/** Whether a text has 1 to `most` characters (Unicode code points), all printable. */
export function isPrintable(text: string, most: number): boolean {
  const units = text.length;
  if (units === 0 || units > 2 * most) return false;
  let plain = true;
  for (let index = 0; index < units && plain; index += 1) {
    const unit = text.charCodeAt(index);
    plain = unit >= 0x20 && unit <= 0x7e;
  }
  if (plain) return units <= most;
  return Array.from(text).length <= most && !unprintable.test(text);
}

/** The first 256 characters of a payload, whatever its bytes are. */
export function headOfPayload(payload: Uint8Array): string {
  // A character takes at most four bytes; one that is cut in two at the end comes after the 256th.
  const text = new TextDecoder('utf-8').decode(payload.subarray(0, 4 * headLength));
  return makePrintable(text.slice(0, headLength));
}

/** The first `most` characters of a value's JSON. Writing stops there, so that neither size nor depth can do harm. */
export function headOfValue(value: unknown, most = headLength): string {
  const text = write(value, most);
  return makePrintable(text.length > most ? text.slice(0, most) : text);
}

// Every level of nesting writes at least one character, so the depth of the recursion is at most `room`.
function write(value: unknown, room: number): string {
  if (room <= 0) return '';
  if (typeof value === 'string') return JSON.stringify(value.slice(0, room));
  if (typeof value !== 'object' || value === null) return String(value);
  const list = Array.isArray(value);
  let text = list ? '[' : '{';
  for (const [key, entry] of list ? value.entries() : ownEntries(value)) {
    if (text.length > room) return text;
    if (text.length > 1) text += ',';
    if (typeof key === 'string') text += `${JSON.stringify(key.slice(0, room))}:`;
    text += write(entry, room - text.length);
  }
  return text + (list ? ']' : '}');
}

function* ownEntries(value: object): Generator<[string, unknown]> {
  for (const key in value) yield [key, (value as Record<string, unknown>)[key]];
}
