/** Gathers what is sent within one turn and writes it at its end: a commit acknowledges thousands of messages at once. */
export interface TurnWriter {
  put(bytes: Buffer): void;
  /** Writes what was gathered at once, for instance before the connection ends. */
  flush(): void;
  /** How many bytes were gathered and not yet written. */
  waiting(): number;
}

export function turnWriter(write: (bytes: Buffer) => void): TurnWriter {
  let out: Buffer[] = [];
  let size = 0;

  function flush(): void {
    if (out.length === 0) return;
    const bytes = Buffer.concat(out, size);
    out = [];
    size = 0;
    write(bytes);
  }

  return {
    put(bytes) {
      size += bytes.length;
      if (out.push(bytes) === 1) process.nextTick(flush);
    },
    flush,
    waiting: () => size,
  };
}
