const float = new Float64Array(1);
const words = new Uint32Array(float.buffer);
float[0] = 1;
// 1.0 is 3FF00000 00000000, so the word that is 0 is the low one on this machine.
const low = words[0] === 0 ? 0 : 1;
const high = 1 - low;
const wordSize = 2 ** 32;

/** How many Float64 values `to` lies above `from` in magnitude (neighbours are 1 apart); not finite if one of them is not or their signs differ. */
export function stepsBetween(from: number, to: number): number {
  if (!Number.isFinite(from) || !Number.isFinite(to)) return Infinity;
  float[0] = from;
  const fromHigh = words[high] ?? 0;
  const fromLow = words[low] ?? 0;
  float[0] = to;
  const toHigh = words[high] ?? 0;
  if (fromHigh >>> 31 !== toHigh >>> 31) return Infinity;
  return (toHigh - fromHigh) * wordSize + ((words[low] ?? 0) - fromLow);
}

/** The Float64 value `steps` (a small number) above `from` in magnitude. */
export function stepped(from: number, steps: number): number {
  if (steps === 0) return from;
  float[0] = from;
  const sum = (words[low] ?? 0) + steps;
  const carry = Math.floor(sum / wordSize);
  words[low] = sum - carry * wordSize;
  words[high] = (words[high] ?? 0) + carry;
  return float[0];
}
