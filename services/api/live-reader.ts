import type { Response } from 'express';
import type { ApiLimits } from './deps.js';

/** A text of the feed with its place in the order of all events. */
export interface Numbered {
  readonly number: number;
  readonly text: string;
}

/** What a reader gets first: the state of every carriage, read as it is sent, or what it missed. */
export interface FirstState {
  readonly states: Iterator<{ readonly key: string | null; readonly text: string }> | null;
  readonly carriages: readonly string[];
  readonly others: readonly Numbered[];
}

export interface LiveReader {
  /** The newest state of a carriage: it replaces one that still waits, so no reader holds more than one for each carriage. */
  carriage(key: string): void;
  /** Any other event: each counts. */
  other(event: Numbered): void;
  /** Keeps the connection alive. */
  comment(): void;
  end(): void;
}

/** Bytes that are put together into one write. */
const pieceBytes = 65_536;

/**
 * Sends to one reader piece by piece, as fast as it reads. The queue holds names of carriages rather than texts. A reader is
 * disconnected when it reads nothing for `liveStall` ms, or when more than `liveBacklog` bytes of other events wait for it.
 */
export function liveReader(response: Response, limits: ApiLimits, first: FirstState, newest: (key: string) => Numbered | undefined): LiveReader {
  const carriages = new Set(first.carriages);
  let others = [...first.others];
  let othersBytes = 0;
  let { states } = first;
  let full = false;
  let stall: NodeJS.Timeout | null = null;

  response.on('drain', () => {
    calm();
    full = false;
    pump();
  });
  response.once('close', calm);

  function calm(): void {
    if (stall !== null) clearTimeout(stall);
    stall = null;
  }

  function write(text: string): void {
    full = !response.write(text);
    if (full) stall ??= setTimeout(() => response.destroy(), limits.liveStall);
  }

  function pump(): void {
    while (!full && !response.destroyed) {
      const piece = states === null ? changes() : firstPiece(states);
      if (piece === '') return;
      write(piece);
    }
  }

  function firstPiece(rest: NonNullable<FirstState['states']>): string {
    let piece = '';
    while (piece.length < pieceBytes) {
      const next = rest.next();
      if (next.done === true) {
        states = null;
        return piece === '' ? changes() : piece;
      }
      // A carriage that has changed meanwhile follows as a change.
      if (next.value.key === null || !carriages.has(next.value.key)) piece += next.value.text;
    }
    return piece;
  }

  /** In the order of their numbers, so that the last one sent stands for all before it. */
  function changes(): string {
    if (carriages.size === 0 && others.length === 0) return '';
    const waiting = [...others];
    const keys = new Map<Numbered, string>();
    for (const key of carriages) {
      const event = newest(key);
      if (event === undefined) carriages.delete(key);
      else keys.set(event, key);
    }
    waiting.push(...keys.keys());
    waiting.sort((a, b) => a.number - b.number);
    let piece = '';
    let sent = 0;
    for (const event of waiting) {
      if (piece.length >= pieceBytes) break;
      piece += event.text;
      sent += 1;
      const key = keys.get(event);
      if (key !== undefined) carriages.delete(key);
    }
    const lastSent = waiting[sent - 1]?.number ?? 0;
    others = others.filter((event) => event.number > lastSent);
    othersBytes = others.reduce((sum, { text }) => sum + text.length, 0);
    return piece;
  }

  pump();
  return {
    carriage(key) {
      carriages.add(key);
      if (!full) pump();
    },
    other(event) {
      others.push(event);
      othersBytes += event.text.length;
      if (!full) pump();
      if (othersBytes > limits.liveBacklog) response.destroy();
    },
    comment() {
      if (!full && states === null) write(':\n\n');
    },
    end() {
      response.end();
    },
  };
}
