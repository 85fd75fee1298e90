/** Gathers what goes out within one turn and writes it at its end: a commit answers thousands of messages at once. */
export interface TurnWriter {
  put(bytes: Buffer): void;
  /** Writes what was gathered now, before a goodbye for instance. */
  flush(): void;
  /** Bytes that were gathered and are not written. */
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
