/**
 * 128 bits over words of 32 bits, to name a content and to notice damage; no protection against somebody who forges one.
 * Four lanes of multiply and rotate, so that a file of hundreds of megabytes is read at memory speed.
 */
export function hashWords(words: Uint32Array): [number, number, number, number] {
  let a = 0x243f6a88;
  let b = 0x85a308d3;
  let c = 0x13198a2e;
  let d = 0x03707344;
  const whole = words.length & ~3;
  for (let at = 0; at < whole; at += 4) {
    a = Math.imul(a ^ words[at]!, 0x9e3779b1);
    a = (a << 13) | (a >>> 19);
    b = Math.imul(b ^ words[at + 1]!, 0x85ebca77);
    b = (b << 13) | (b >>> 19);
    c = Math.imul(c ^ words[at + 2]!, 0xc2b2ae3d);
    c = (c << 13) | (c >>> 19);
    d = Math.imul(d ^ words[at + 3]!, 0x27d4eb2f);
    d = (d << 13) | (d >>> 19);
  }
  for (let at = whole; at < words.length; at++) a = Math.imul(a ^ words[at]!, 0x9e3779b1) ^ (a >>> 15);
  // Each lane ends up hanging on all four.
  for (let round = 0; round < 2; round++) {
    a = mix(a ^ words.length ^ d);
    b = mix(b ^ a);
    c = mix(c ^ b);
    d = mix(d ^ c);
  }
  return [a >>> 0, b >>> 0, c >>> 0, d >>> 0];
}

function mix(value: number): number {
  let mixed = Math.imul(value ^ (value >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return mixed ^ (mixed >>> 16);
}
