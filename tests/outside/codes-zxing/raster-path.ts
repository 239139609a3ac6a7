/** Black paths on white paper, as a printer would put them: dots of RGBA. Each path is filled by the even-odd rule; M, L, H, V and Z alone are read. */
export function rasterPaths(wide: number, high: number, paths: readonly string[], dotsPerModule: number): { data: Uint8ClampedArray; width: number; height: number } {
  const [width, height] = [wide * dotsPerModule, high * dotsPerModule];
  const data = new Uint8ClampedArray(4 * width * height).fill(255);
  for (const path of paths) {
    const rings = readRings(path);
    for (let row = 0; row < height; row += 1) {
      const y = (row + 0.5) / dotsPerModule;
      const crossings = rings.flatMap((ring) => ring.flatMap(([x1, y1], k) => {
        const [x2, y2] = ring[(k + 1) % ring.length]!;
        return (y1 <= y) === (y2 <= y) ? [] : [x1 + ((y - y1) / (y2 - y1)) * (x2 - x1)];
      })).toSorted((a, b) => a - b);
      for (let k = 0; k + 1 < crossings.length; k += 2) {
        const [from, to] = [Math.ceil(crossings[k]! * dotsPerModule - 0.5), Math.ceil(crossings[k + 1]! * dotsPerModule - 0.5)];
        for (let column = from; column < to; column += 1) data.fill(0, 4 * (row * width + column), 4 * (row * width + column) + 3);
      }
    }
  }
  return { data, width, height };
}

function readRings(path: string): [number, number][][] {
  return path.split('Z').filter((part) => part !== '').map((part) => {
    const ring: [number, number][] = [];
    for (const [, letter, numbers] of part.matchAll(/([MLHV])([^MLHV]*)/g)) {
      const [a, b] = numbers!.trim().split(/[ ,]+/).map(Number);
      const [x, y] = ring.at(-1) ?? [0, 0];
      ring.push(letter === 'H' ? [a!, y] : letter === 'V' ? [x, a!] : [a!, b!]);
    }
    return ring;
  });
}
