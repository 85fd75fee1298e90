import { signal } from '@preact/signals';
import { readStored, writeStored } from './browser-storage.js';

export type UnitSystem = 'metric' | 'us';
export type Language = 'en' | 'zh';
/** Light or dark surfaces; `system` as the system asks for. */
export type Appearance = 'system' | 'light' | 'dark';

/** What a person chose in this browser; never part of any data. */
export const unitSystem = signal<UnitSystem>(readStored('seamwarden.units') === 'us' ? 'us' : 'metric');
export const language = signal<Language>(firstLanguage());
export const appearance = signal<Appearance>(appearanceOf(readStored('seamwarden.appearance')) ?? 'system');

export function chooseUnits(units: UnitSystem): void {
  unitSystem.value = units;
  writeStored('seamwarden.units', units);
}

export function chooseLanguage(chosen: Language): void {
  language.value = chosen;
  writeStored('seamwarden.language', chosen);
}

export function chooseAppearance(chosen: Appearance): void {
  appearance.value = chosen;
  writeStored('seamwarden.appearance', chosen);
}

/**
 * Applies the settings in an address, such as `#/?theme=dark&language=zh&units=us`, so that a television or a tablet can be set up without touching it.
 * They last as long as the page and change nothing that is stored.
 */
export function applyChoices(query: URLSearchParams): void {
  const theme = appearanceOf(query.get('theme'));
  if (theme !== null) appearance.value = theme;
  const chosen = query.get('language');
  if (chosen === 'en' || chosen === 'zh') language.value = chosen;
  const units = query.get('units');
  if (units === 'us' || units === 'metric') unitSystem.value = units;
}

function appearanceOf(text: string | null): Appearance | null {
  return text === 'system' || text === 'light' || text === 'dark' ? text : null;
}

function firstLanguage(): Language {
  const chosen = readStored('seamwarden.language');
  if (chosen === 'en' || chosen === 'zh') return chosen;
  return typeof navigator !== 'undefined' && navigator.language.startsWith('zh') ? 'zh' : 'en';
}
