import { describe, expect, it } from 'vitest';
import { connectionPlaces, type Place } from '../../../services/ingest/mqtt/connection-places.js';

describe('places of connections', () => {
  const place = (address: string, since: number, connected: boolean, working = false): Place & { readonly left: string[] } => {
    const left: string[] = [];
    return { address, since, connected: () => connected, working: () => working, leave: (reason) => left.push(reason), left };
  };

  it('limits the connections of one address, except on loopback', () => {
    const places = connectionPlaces(10, 2);
    const far = [0, 1, 2].map((n) => places.take(place('10.0.0.7', n, true)));
    expect(far).toEqual([null, null, '2 connections from 10.0.0.7, which is the most from one address']);
    expect([0, 1, 2].map((n) => places.take(place('127.0.0.1', n, true)))).toEqual([null, null, null]);
  });

  it('gives way: first clients that never connected, then clients that never did anything, and never working ones', () => {
    const places = connectionPlaces(3, 3);
    const [idle, works, silent] = [place('a', 0, true), place('b', 1, true, true), place('c', 2, false)];
    for (const own of [idle, works, silent]) expect(places.take(own)).toBeNull();
    expect(places.take(place('d', 3, true, true))).toBeNull();
    expect([idle.left.length, works.left.length, silent.left.length]).toEqual([0, 0, 1]);
    expect(places.take(place('e', 9_000, true, true))).toBe('3 connections, which is the most');
    expect(places.take(place('e', 11_000, true, true))).toBeNull();
    expect(idle.left).toHaveLength(1);
    expect(places.take(place('f', 99_000, true, true))).toBe('3 connections, which is the most');
    expect(works.left).toEqual([]);
  });
});
