import { all, create } from 'mathjs';
import type { FigureAnswer } from '../../../shared/weld/figures/run-figure-answers.js';

const math = create(all ?? {});

/** The names that a formula may use besides those of its inputs. */
const known = ['pi', 'sqrt', 'exp', 'ln', 'abs', 'min', 'max'];

/** Nine digits, relative; values of 0 must be 0. */
const nineDigits = 0.5e-9;

/** What a general expression library (math.js) makes of the formula with the inputs put in; its natural logarithm is called `log`. */
export function evaluated({ formula, inputs }: Pick<FigureAnswer, 'formula' | 'inputs'>): number {
  const scope = { ...Object.fromEntries(inputs.map(({ name, value }) => [name, value ?? Number.NaN])), ln: Math.log };
  return Number(math.evaluate(formula ?? '', scope));
}

/** What is wrong with a figure as it was answered; empty where nothing is. */
export function wrongInFigure(figure: FigureAnswer): string[] {
  const { name, value, formula, inputs, absent, method, source, unit } = figure;
  const wrong: string[] = [];
  const say = (text: string): void => { wrong.push(`${name}: ${text}`); };
  if ((value === null) !== (absent !== null)) say(`value ${String(value)}, absent ${String(absent)}`);
  if (method === '' || source === '' || unit !== unit.trim()) say('lacks method or source');
  for (const input of inputs) if (!/^[A-Za-z][A-Za-z0-9]*$/.test(input.name) || known.includes(input.name)) say(`no name for an input: ${input.name}`);
  if (new Set(inputs.map((own) => own.name)).size !== inputs.length) say('names an input twice');
  if (formula === null) return wrong;
  if (!/^[A-Za-z0-9+\-*/^()., ]+$/.test(formula)) say(`is no plain infix: ${formula}`);
  const names = new Set(formula.match(/[A-Za-z][A-Za-z0-9]*/g)?.filter((word) => !known.includes(word)));
  const given = new Set(inputs.map((own) => own.name));
  if ([...names].sort().join() !== [...given].sort().join()) say(`formula ${formula} has the inputs ${[...given].join(', ')}`);
  const result = evaluated(figure);
  if (value === null || !(Math.abs(result - value) <= nineDigits * Math.max(Math.abs(result), Math.abs(value)))) say(`${formula} gives ${result}, not ${String(value)}`);
  return wrong;
}
