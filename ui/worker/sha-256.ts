// Source: FIPS 180-4, SHA-256. The browser's own is missing where the page is not served securely, as on a shop's own network.

/** The first 32 bits of the fractional parts of the cube (constants) and square (start) roots of the first primes. */
const CONSTANTS = fractionsOf(64, Math.cbrt);
const START = fractionsOf(8, Math.sqrt);

/** SHA-256 of bytes, in hexadecimal. Cost: some 20 ms a megabyte on a telephone. */
export function hashBytes(bytes: Uint8Array): string {
  const padded = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(padded.length - 4, bytes.length << 3);

  const state = Int32Array.from(START);
  const words = new Int32Array(64);
  for (let block = 0; block < padded.length; block += 64) {
    for (let t = 0; t < 16; t++) words[t] = view.getInt32(block + 4 * t);
    for (let t = 16; t < 64; t++) {
      const [w15, w2] = [words[t - 15]!, words[t - 2]!];
      const s0 = turn(w15, 7) ^ turn(w15, 18) ^ (w15 >>> 3);
      const s1 = turn(w2, 17) ^ turn(w2, 19) ^ (w2 >>> 10);
      words[t] = words[t - 16]! + s0 + words[t - 7]! + s1;
    }
    let [a, b, c, d] = [state[0]!, state[1]!, state[2]!, state[3]!];
    let [e, f, g, h] = [state[4]!, state[5]!, state[6]!, state[7]!];
    for (let t = 0; t < 64; t++) {
      const first = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + CONSTANTS[t]! + words[t]!) | 0;
      const second = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      h = g;
      g = f;
      f = e;
      e = (d + first) | 0;
      d = c;
      c = b;
      b = a;
      a = (first + second) | 0;
    }
    state[0]! += a; state[1]! += b; state[2]! += c; state[3]! += d;
    state[4]! += e; state[5]! += f; state[6]! += g; state[7]! += h;
  }
  return Array.from(state, (word) => (word >>> 0).toString(16).padStart(8, '0')).join('');
}

function turn(word: number, bits: number): number {
  return (word >>> bits) | (word << (32 - bits));
}

function fractionsOf(count: number, root: (prime: number) => number): Int32Array {
  const primes: number[] = [];
  for (let n = 2; primes.length < count; n++) if (primes.every((prime) => n % prime !== 0)) primes.push(n);
  return Int32Array.from(primes, (prime) => Math.floor((root(prime) % 1) * 2 ** 32));
}
