const place = 'seamwarden.station';

/** The carriage that this tablet stood at last, as `site/carriage`; null where none was chosen or the browser keeps nothing. */
export function ownCarriage(): string | null {
  try {
    return localStorage.getItem(place);
  } catch {
    return null;
  }
}

export function keepOwnCarriage(key: string | null): void {
  try {
    if (key === null) localStorage.removeItem(place);
    else localStorage.setItem(place, key);
  } catch {
    // It is chosen again after the next start then.
  }
}
