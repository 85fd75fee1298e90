import { language } from './choices.js';

/** Words of one part of the pages: texts, and functions that put values into a sentence. */
type Words = Readonly<Record<string, string | ((...values: never[]) => string)>>;
type Texts<T> = { readonly [Key in keyof T]: T[Key] extends string ? string : T[Key] };

/**
 * The words of a part in both languages. Called, the catalogue gives those of the chosen one. That reads the signal, so the page follows the choice:
 * `const say = floorWords();` inside a component, then `say.inRange` or `say.toGo('2430 mm')`.
 */
export function catalogue<T extends Words>(words: { readonly en: T; readonly zh: Texts<T> }): (() => Texts<T>) & typeof words {
  return Object.assign(() => (language.value === 'zh' ? words.zh : (words.en as Texts<T>)), words);
}

/** The text with a capital first letter; Chinese stays as it is. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
