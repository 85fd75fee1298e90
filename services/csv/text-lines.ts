/** One line of a text without its ending; `whole` is false if only its beginning is returned, since it is longer than accepted. */
export interface TextLine {
  readonly text: string;
  readonly whole: boolean;
}

export type LineEnding = '\n' | '\r';

/** The longest line that is returned whole, characters: the rest of a longer one is skipped without being stored. */
export const longestLine = 262_144;

/** The lines of a text that arrives piece by piece, each ended by `ending`; a non-empty rest after the last ending is a line too. */
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
