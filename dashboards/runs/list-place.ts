/** Where a reader of a list was: how many rows were loaded, and how far down. It is kept with the entry of the browser's history, so that Back restores it and a fresh visit does not. */
export interface ListPlace {
  readonly rows: number;
  readonly down: number;
}

export function readListPlace(): ListPlace | null {
  const state: unknown = window.history.state;
  if (typeof state !== 'object' || state === null || !('listPlace' in state)) return null;
  const place = state.listPlace as Partial<ListPlace> | null;
  return typeof place?.rows === 'number' && typeof place.down === 'number' ? { rows: place.rows, down: place.down } : null;
}

export function keepListPlace(place: ListPlace): void {
  window.history.replaceState({ listPlace: place }, '');
}
