/** What decides which connection gives way when there are no free places. */
export interface Place {
  readonly address: string;
  /** When it connected, ms of the steady clock. */
  readonly since: number;
  /** Whether its CONNECT was accepted. */
  connected(): boolean;
  /** Whether it has published or subscribed to anything. */
  working(): boolean;
  leave(reason: string): void;
}

export interface ConnectionPlaces {
  /** Takes a place; returns null, or the reason why there is none. */
  take(place: Place): string | null;
  free(place: Place): void;
}

/** A client that has connected and done nothing else counts as idle after this time, ms. */
const IDLE_AFTER = 10_000;

/**
 * Bounds connections, in total and from one address (except loopback: gateways and bridges on this machine serve many carriages). When all places are
 * taken, the connection that has waited longest without a CONNECT gives way, or else the one that connected longest ago and never did anything:
 * working carriages keep theirs.
 */
export function connectionPlaces(most: number, mostOfAddress: number): ConnectionPlaces {
  // In the order in which they connected.
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
