/** One line of a text without its ending; `whole` is false where only its beginning is given, since it is longer than is taken. */
export interface TextLine {
  readonly text: string;
  readonly whole: boolean;
}

export type LineEnding = '\n' | '\r';

/** Longest line that is given whole, characters: what comes behind it is passed over without being gathered. */
export const longestLine = 262_144;

/** The lines of a text that comes piece by piece, each ended by `ending`; the rest behind the last ending is a line too where it is not empty. */
export function* textLines(pieces: Iterable<string>, ending: LineEnding): Generator<TextLine, void> {
  let begun = '';
  let whole = true;
  for (const piece of pieces) {
    let from = 0;
    for (let end = piece.indexOf(ending); end !== -1; end = piece.indexOf(ending, from)) {
      yield lineOf(begun, piece.slice(from, end), whole);
      begun = '';
      whole = true;
      from = end + 1;
    }
    if (from === piece.length || !whole) continue;
    begun += piece.slice(from);
    if (begun.length > longestLine) {
      begun = begun.slice(0, longestLine);
      whole = false;
    }
  }
  if (begun !== '') yield lineOf(begun, '', whole);
}

function lineOf(begun: string, rest: string, whole: boolean): TextLine {
  if (!whole) return { text: begun, whole };
  const text = begun === '' ? rest : begun + rest;
  return text.length > longestLine ? { text: text.slice(0, longestLine), whole: false } : { text, whole };
}
