/** A formula of the API as it is printed: a raised dot, a real minus sign, √, π and small exponents; names, numbers and their order stay. */
export function formulaText(formula: string): string {
  return formula.replaceAll(' * ', ' · ').replaceAll(' - ', ' − ').replaceAll(' / ', ' ⁄ ').replaceAll(/\bsqrt\b/g, '√').replaceAll(/\bpi\b/g, 'π').replaceAll(/\^2\b(?!\.)/g, '²').replaceAll(/\^3\b(?!\.)/g, '³');
}
