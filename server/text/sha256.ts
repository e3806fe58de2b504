/** SHA-256 (FIPS 180-4) of bytes, in hexadecimal: the same everywhere the server runs, and at once. */

/** The first 32 bits of the fractional parts of a power of the first primes, which is how the standard makes its constants. */
const fractions = (count: number, power: number): Uint32Array => {
  const found: number[] = [];
  for (let candidate = 2; found.length < count; candidate++) {
    if (found.every((prime) => candidate % prime !== 0)) found.push(candidate);
  }
  return Uint32Array.from(found, (prime) => (prime ** power % 1) * 2 ** 32);
};

const CONSTANTS = fractions(64, 1 / 3);
const START = fractions(8, 1 / 2);

const turned = (word: number, by: number): number => (word >>> by) | (word << (32 - by));

export const sha256 = (bytes: Uint8Array): string => {
  const blocks = padded(bytes);
  const state = START.slice();
  const schedule = new Uint32Array(64);
  for (let at = 0; at < blocks.byteLength; at += 64) digestBlock(blocks, at, state, schedule);
  return [...state].map((word) => word.toString(16).padStart(8, '0')).join('');
};

/** With a one, noughts and the length in bits, to whole blocks of 64 bytes. */
const padded = (bytes: Uint8Array): DataView => {
  const filled = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
  filled.set(bytes);
  filled[bytes.length] = 0x80;
  const view = new DataView(filled.buffer);
  view.setUint32(filled.length - 8, Math.floor((bytes.length * 8) / 2 ** 32));
  view.setUint32(filled.length - 4, bytes.length * 8);
  return view;
};

const digestBlock = (blocks: DataView, from: number, state: Uint32Array, w: Uint32Array): void => {
  for (let t = 0; t < 16; t++) w[t] = blocks.getUint32(from + 4 * t);
  for (let t = 16; t < 64; t++) {
    const [near, far] = [w[t - 15]!, w[t - 2]!];
    const s0 = turned(near, 7) ^ turned(near, 18) ^ (near >>> 3);
    const s1 = turned(far, 17) ^ turned(far, 19) ^ (far >>> 10);
    w[t] = w[t - 16]! + s0 + w[t - 7]! + s1;
  }
  let [a, b, c, d, e, f, g, h] = [...state] as [number, number, number, number, number, number, number, number];
  for (let t = 0; t < 64; t++) {
    const choice = (e & f) ^ (~e & g);
    const majority = (a & b) ^ (a & c) ^ (b & c);
    const first = (h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + choice + CONSTANTS[t]! + w[t]!) | 0;
    const second = ((turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + majority) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + first) | 0, c, b, a, (first + second) | 0];
  }
  for (const [at, word] of [a, b, c, d, e, f, g, h].entries()) state[at]! += word;
};
