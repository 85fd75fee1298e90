/** One system call of a trace, with the lines at which it began and ended. */
export interface TracedCall {
  readonly name: string;
  /** What the file descriptor refers to: a path, or `TCP:[…]`. */
  readonly target: string;
  /** Bytes read or written; what strace cut off is missing. */
  readonly data: Buffer;
  readonly result: number;
  readonly began: number;
  readonly ended: number;
}

const whole = /^(\w+)\((\d+)<((?:->|[^>"])*)>(.*)\)\s+= (-?\d+|\?)/;
const unfinished = /^(.*) <unfinished \.\.\.>$/;
const resumed = /^<\.\.\. \w+ resumed>(.*)$/;

/** Reads what `strace -f -yy -xx` wrote (strace(1)): hexadecimal strings, calls of several threads, some in two parts. */
export function readTrace(text: string): TracedCall[] {
  const calls: TracedCall[] = [];
  const open = new Map<string, { began: number; text: string }>();
  text.split('\n').forEach((line, index) => {
    const [, thread = '', rest = ''] = /^(\d+)\s+(.*)$/.exec(line) ?? [];
    const halved = unfinished.exec(rest);
    if (halved?.[1] !== undefined) {
      open.set(thread, { began: index, text: halved[1] });
      return;
    }
    const half = open.get(thread);
    const second = resumed.exec(rest)?.[1];
    const begun = second !== undefined && half !== undefined ? half : { began: index, text: '' };
    if (second !== undefined) open.delete(thread);
    const call = whole.exec(begun.text + (second ?? rest));
    if (call === null) return;
    const [, name = '', , target = '', args = '', result = ''] = call;
    calls.push({ name, target: fromHex(target).toString('latin1'), data: stringsOf(args), result: Number(result), began: begun.began, ended: index });
  });
  return calls;
}

function fromHex(text: string): Buffer {
  return Buffer.from(text.replaceAll(/\\x([0-9a-f]{2})/g, (_, digits: string) => String.fromCharCode(Number.parseInt(digits, 16))), 'latin1');
}

/** All strings of a call's arguments, one behind the other (writev has several). */
function stringsOf(args: string): Buffer {
  return Buffer.concat([...args.matchAll(/"((?:\\x[0-9a-f]{2})*)"/g)].map(([, text = '']) => fromHex(text)));
}

interface Packet {
  readonly type: number;
  readonly body: Buffer;
  readonly call: TracedCall;
}

const publish = 3;
const puback = 4;

/** Cuts the bytes of one direction of a connection into MQTT packets (MQTT 3.1.1, section 2.2); each has the call that brought its end. */
function packetsOf(calls: readonly TracedCall[]): Packet[] {
  const packets: Packet[] = [];
  let rest = Buffer.alloc(0);
  for (const call of calls) {
    if (call.result <= 0) continue;
    if (call.data.length < call.result) throw new Error(`strace showed ${call.data.length} of ${call.result} bytes of ${call.name}; its -s is too small`);
    rest = Buffer.concat([rest, call.data.subarray(0, call.result)]);
    for (;;) {
      let length = 0;
      let at = 1;
      let more = rest.length > 1;
      while (more) {
        const byte = rest[at] ?? 0;
        length += (byte & 0x7f) * 128 ** (at - 1);
        more = byte >= 0x80 && at + 1 < rest.length;
        at += 1;
      }
      if (rest.length < 2 || rest.length < at + length) break;
      packets.push({ type: (rest[0] ?? 0) >> 4, body: rest.subarray(at, at + length), call });
      rest = rest.subarray(at + length);
    }
  }
  return packets;
}

export interface SyncVerdict {
  readonly acknowledged: number;
  readonly syncs: number;
  /** PUBACKs without what must come before them, a line each. */
  readonly problems: readonly string[];
}

const receives = new Set(['read', 'recvfrom']);
const sends = new Set(['write', 'writev', 'sendto', 'sendmsg']);
const writesFile = new Set(['pwrite64', 'write', 'writev']);

/**
 * Judges a trace: between the arrival of a PUBLISH (its read has returned) and its PUBACK (its write begins) the message's own
 * bytes must have been written to the write-ahead log, and after that a sync of the log must have begun and returned 0.
 */
export function judgeTrace(calls: readonly TracedCall[], mqttPort: number): SyncVerdict {
  const sockets = new Set(calls.map(({ target }) => target).filter((target) => target.startsWith('TCP') && target.includes(`:${mqttPort}->`)));
  const logWrites = calls.filter(({ name, target }) => writesFile.has(name) && target.endsWith('-wal'));
  const syncs = calls.filter(({ name, target, result }) => (name === 'fsync' || name === 'fdatasync') && target.endsWith('-wal') && result === 0);
  const problems: string[] = [];
  let acknowledged = 0;
  for (const socket of sockets) {
    const own = calls.filter(({ target }) => target === socket);
    const arrivals = new Map<number, { payload: Buffer; call: TracedCall }>();
    for (const { body, call } of packetsOf(own.filter(({ name }) => receives.has(name))).filter(({ type }) => type === publish)) {
      const topic = body.readUInt16BE(0);
      arrivals.set(body.readUInt16BE(2 + topic), { payload: body.subarray(4 + topic), call });
    }
    for (const { body, call } of packetsOf(own.filter(({ name }) => sends.has(name))).filter(({ type }) => type === puback)) {
      acknowledged += 1;
      const id = body.readUInt16BE(0);
      const arrival = arrivals.get(id);
      if (arrival === undefined) {
        problems.push(`PUBACK ${id} at line ${call.began + 1}: no PUBLISH with that id was read`);
        continue;
      }
      const written = logWrites.find(({ began, ended, data }) => began > arrival.call.ended && ended < call.began && data.includes(arrival.payload));
      if (written === undefined) problems.push(`PUBACK ${id} at line ${call.began + 1}: its message was not written to the log before`);
      else if (!syncs.some(({ began, ended }) => began > written.ended && ended < call.began)) problems.push(`PUBACK ${id} at line ${call.began + 1}: no sync of the log after line ${written.ended + 1}`);
    }
  }
  return { acknowledged, syncs: syncs.length, problems };
}
