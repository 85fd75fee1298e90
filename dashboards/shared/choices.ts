import { signal } from '@preact/signals';

export type UnitSystem = 'metric' | 'us';
export type Language = 'en' | 'zh';

/** What a person chose on this browser; never part of any data. */
export const unitSystem = signal<UnitSystem>(stored('seamwarden.units') === 'us' ? 'us' : 'metric');
export const language = signal<Language>(firstLanguage());

export function chooseUnits(units: UnitSystem): void {
  unitSystem.value = units;
  store('seamwarden.units', units);
}

export function chooseLanguage(chosen: Language): void {
  language.value = chosen;
  store('seamwarden.language', chosen);
}

function firstLanguage(): Language {
  const chosen = stored('seamwarden.language');
  if (chosen === 'en' || chosen === 'zh') return chosen;
  return typeof navigator !== 'undefined' && navigator.language.startsWith('zh') ? 'zh' : 'en';
}

/** A browser may deny its storage; then the choice lasts as long as the page. */
function stored(name: string): string | null {
  try {
    return localStorage.getItem(name);
  } catch {
    return null;
  }
}

function store(name: string, value: string): void {
  try {
    localStorage.setItem(name, value);
  } catch {
    // Lasts as long as the page then.
  }
}
