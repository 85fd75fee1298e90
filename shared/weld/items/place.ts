/** A place in the order of a carriage's items. */
export interface Place {
  readonly rank: number;
  readonly key: number;
}

export function isAfter(place: Place, before: Place): boolean {
  return place.rank > before.rank || (place.rank === before.rank && place.key > before.key);
}
