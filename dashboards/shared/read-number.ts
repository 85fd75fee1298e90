/** A number as a person typed it, or why it was not accepted. */
export type ReadNumber =
  | { readonly is: 'number'; readonly value: number }
  | { readonly is: 'empty' }
  /** `thousands`: a comma that may be a decimal sign or may group thousands, as in 1,234. */
  | { readonly is: 'noNumber' | 'thousands' };

const plainNumber = /^[-+]?(\d+\.?\d*|\.\d+)$/;
const fraction = /^([-+]?)(?:(\d+)[ -])?(\d+)\/([1-9]\d*)$/;
const groups = /^([-+]?)(\d{1,3}(?: \d{3})+)([.,]\d*)?$/;

/**
 * Accepts a decimal point or a decimal comma (ISO 80000-1:2009, 7.3.2, has both), and spaces between groups of three digits. A comma never
 * counts as a thousands separator: if it could be one, as in 1,234, the number is refused rather than guessed. With `fractions`, also 5/32 and 1 1/4.
 */
export function readNumber(typed: string, fractions = false): ReadNumber {
  const text = halfWidth(typed).trim().replaceAll('\u2212', '-').replaceAll(/[\u2009\u202f\u00a0 ]+/g, ' ');
  if (text === '') return { is: 'empty' };
  const parts = fractions ? fraction.exec(text) : null;
  if (parts !== null) {
    const [, sign, whole = '0', over = '', under = ''] = parts;
    return { is: 'number', value: (sign === '-' ? -1 : 1) * (Number(whole) + Number(over) / Number(under)) };
  }
  const together = groups.test(text) ? text.replaceAll(' ', '') : text.replace(/^([-+]) /, '$1');
  if (/^[-+]?[1-9]\d{0,2},\d{3}$/.test(together) && together === text) return { is: 'thousands' };
  const plain = together.replace(/^([-+]?\d*),(\d*)$/, '$1.$2');
  return plainNumber.test(plain) ? { is: 'number', value: Number(plain) } : { is: 'noNumber' };
}

/** Whether the text is worth repeating as it was understood: it has a comma or a fraction. */
export function needsEcho(typed: string): boolean {
  return /[,/]/.test(halfWidth(typed));
}

/** Turns digits and signs as a Chinese input method may write them into ASCII: U+FF0B to U+FF19 are 0xFEE0 above their ASCII twins. */
function halfWidth(text: string): string {
  return text.replaceAll(/[\uff0b-\uff19]/g, (own) => String.fromCharCode(own.charCodeAt(0) - 0xfee0));
}
