/** What is known of a connection when places run out. */
export interface Place {
  readonly address: string;
  /** Steady clock, ms. */
  readonly since: number;
  /** Its CONNECT was accepted. */
  connected(): boolean;
  /** It has published something, or has subscribed to something. */
  working(): boolean;
  leave(reason: string): void;
}

export interface ConnectionPlaces {
  /** Takes a place, or says why there is none. */
  take(place: Place): string | null;
  free(place: Place): void;
}

/** One that has only connected is taken for idle after so long, ms. */
const IDLE_AFTER = 10_000;

/**
 * Bounds connections, in all and from one address (not of loopback: gateways and bridges on this machine speak for many). Where all places are taken, the one
 * that has waited longest without a CONNECT gives way, else the one that has connected longest ago and never done anything: carriages
 * that work keep theirs.
 */
export function connectionPlaces(most: number, mostOfAddress: number): ConnectionPlaces {
  // In the order in which they came.
  const places = new Set<Place>();
  const ofAddress = new Map<string, number>();

  function free(place: Place): void {
    if (!places.delete(place)) return;
    const left = (ofAddress.get(place.address) ?? 0) - 1;
    if (left > 0) ofAddress.set(place.address, left);
    else ofAddress.delete(place.address);
  }

  function makeRoom(now: number): boolean {
    let idle: Place | null = null;
    for (const place of places) {
      if (!place.connected()) {
        evict(place, 'closed before its CONNECT, since all places were in use');
        return true;
      }
      if (idle === null && !place.working() && now - place.since >= IDLE_AFTER) idle = place;
    }
    if (idle === null) return false;
    evict(idle, 'closed, since all places were in use and it did nothing');
    return true;
  }

  function evict(place: Place, reason: string): void {
    free(place);
    place.leave(reason);
  }

  return {
    take(place) {
      const same = ofAddress.get(place.address) ?? 0;
      if (!isLoopback(place.address) && same >= mostOfAddress) return `${same} connections from ${place.address}, which is the most from one address`;
      if (places.size >= most && !makeRoom(place.since)) return `${places.size} connections, which is the most`;
      places.add(place);
      ofAddress.set(place.address, (ofAddress.get(place.address) ?? 0) + 1);
      return null;
    },
    free,
  };
}

function isLoopback(address: string): boolean {
  return address === '::1' || /^(::ffff:)?127\./.test(address);
}
