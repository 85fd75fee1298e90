import type { Random } from '../model/seeded-random.js';
import type { FileCall } from './recorded-files.js';

/** Bytes that a disk writes as a whole, and bytes that a system writes back as a whole. */
const sector = 512;
const page = 4096;

/**
 * A disk as POSIX promises it and no better: what a file was when it was last synced is there after a loss of power, and of what was
 * done to it since, any part may be; a name is there for certain only since its directory was synced.
 */
export interface PlainDisk {
  apply(call: FileCall): void;
  /** What is left when the power fails now, by path. */
  powerFails(random: Random): Map<string, Buffer>;
}

interface Growing {
  bytes: Buffer;
  size: number;
}

type Change = { readonly offset: number; readonly bytes: Buffer } | { readonly size: number };

interface DiskFile {
  readonly synced: Growing;
  pending: Change[];
}

export interface DiskOptions {
  readonly folder: string;
  /** Names whose content means nothing after a restart. */
  readonly without?: readonly RegExp[];
  /** Syncs that a lying disk answers without doing them: for seeing that the checker sees it. */
  readonly lies?: (path: string) => boolean;
}

export function plainDisk({ folder, without = [], lies = () => false }: DiskOptions): PlainDisk {
  const names = new Map<string, DiskFile>();
  let syncedNames = new Map<string, DiskFile>();

  function fileAt(path: string): DiskFile {
    const known = names.get(path);
    if (known !== undefined) return known;
    const file: DiskFile = { synced: { bytes: Buffer.alloc(page), size: 0 }, pending: [] };
    names.set(path, file);
    return file;
  }

  return {
    apply: (call) => {
      // The content of a file without a name is gone with the process.
      if (call.kind === 'send' || call.path.endsWith(' (deleted)') || without.some((name) => name.test(call.path))) return;
      if (call.kind === 'remove') names.delete(call.path);
      else if (call.kind === 'write') fileAt(call.path).pending.push({ offset: call.offset, bytes: call.bytes });
      else if (call.kind === 'truncate') fileAt(call.path).pending.push({ size: call.size });
      else if (lies(call.path)) return;
      else if (call.path === folder) syncedNames = new Map(names);
      else {
        const file = fileAt(call.path);
        for (const change of file.pending) make(file.synced, change);
        file.pending = [];
      }
    },
    powerFails: (random) => {
      const way = lossOf(random);
      const left = new Map<string, Buffer>();
      for (const path of new Set([...names.keys(), ...syncedNames.keys()])) {
        const file = random.chance(way.share) ? names.get(path) : syncedNames.get(path);
        if (file === undefined) continue;
        const content: Growing = { bytes: Buffer.from(file.synced.bytes), size: file.synced.size };
        lose(content, file.pending, way, random);
        left.set(path, content.bytes.subarray(0, content.size));
      }
      return left;
    },
  };
}

/** How a loss of power treats what was not synced. */
interface Loss {
  /** Share of it that is there nevertheless. */
  readonly share: number;
  /** Written back in order up to some moment; else each piece for itself, so that later ones survive earlier ones. */
  readonly inOrder: boolean;
  /** Bytes that are written or lost together. */
  readonly unit: number;
  /** The content where a file has grown over lost data: zeros, or what was on the disk before. */
  readonly stale: boolean;
}

function lossOf(random: Random): Loss {
  return { share: random.pick([0, 0.1, 0.5, 0.9, 1]), inOrder: random.chance(0.25), unit: random.pick([sector, page]), stale: random.chance(0.25) };
}

function lose(content: Growing, pending: readonly Change[], { share, inOrder, unit, stale }: Loss, random: Random): void {
  const last = random.whole(0, pending.length);
  pending.forEach((change, position) => {
    const kept = (): boolean => (inOrder ? position < last || (position === last && random.chance(0.5)) : random.chance(share));
    if ('size' in change) {
      if (kept()) make(content, change);
      return;
    }
    const end = change.offset + change.bytes.length;
    for (let at = change.offset; at < end; ) {
      const next = Math.min(end, (Math.floor(at / unit) + 1) * unit);
      const before = content.size;
      if (kept()) make(content, { offset: at, bytes: change.bytes.subarray(at - change.offset, next - change.offset) });
      if (stale && at > before && content.size > before) content.bytes.fill(0xa5, before, at);
      at = next;
    }
  });
}

function make(content: Growing, change: Change): void {
  const size = 'size' in change ? change.size : Math.max(content.size, change.offset + change.bytes.length);
  if (size > content.bytes.length) {
    const larger = Buffer.alloc(Math.max(size, content.bytes.length * 2));
    content.bytes.copy(larger, 0, 0, content.size);
    content.bytes = larger;
  }
  // What a file is cut to and grows over again is zeros.
  if (size < content.size) content.bytes.fill(0, size, content.size);
  content.size = size;
  if ('bytes' in change) change.bytes.copy(content.bytes, change.offset);
}
