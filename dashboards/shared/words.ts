import { language } from './choices.js';

/** Words of one part of the pages: texts, and functions that put values into a sentence. */
export type Catalogue = Readonly<Record<string, string | ((...values: never[]) => string)>>;

/**
 * The words of a part in the chosen language. This reads the signal, so the page follows the choice:
 * `const say = wordsOf(floorWords)` inside a component, then `say.inRange` or `say.toGo('2430 mm')`.
 */
export function wordsOf<T extends Catalogue>(words: { readonly en: T; readonly zh: { readonly [Key in keyof T]: T[Key] extends string ? string : T[Key] } }): {
  readonly [Key in keyof T]: T[Key] extends string ? string : T[Key];
} {
  return language.value === 'zh' ? words.zh : (words.en as { readonly [Key in keyof T]: T[Key] extends string ? string : T[Key] });
}

/** The text with a capital first letter; Chinese stays as it is. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
