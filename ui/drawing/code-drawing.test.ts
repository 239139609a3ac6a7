import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { printWireCode, readWireCode } from '../../catalog-schema/index.ts';
import { loadCodeDrawer, type CodeDrawing, type CodeKind } from './code-drawing.ts';

// The reader is another library than the one that draws: zxing-wasm, built from ZXing-C++.
beforeAll(() => {
  const file = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'));
  prepareZXingModule({ overrides: { wasmBinary: file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer } });
});

const jobId = '3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0b';
const TAGS = [...Array.from({ length: 32 }, (_, k) => `W${k + 1}`), '86', 'red one', 'Ω/7', 'masse ä', 'a:b:c', 'W%31', 'x'.repeat(40)];

async function readBack({ wide, high, path }: CodeDrawing, dotsPerModule: number, smear: readonly string[] = []): Promise<{ text: string; format: string }[]> {
  const image = rasterPaths(wide, high, [path, ...smear], dotsPerModule);
  const found = await readBarcodes(image as ImageData, { formats: ['QRCode', 'Code128'], tryHarder: true });
  return found.map(({ text, format }) => ({ text, format }));
}

describe('the code of every tag', () => {
  it.each<[CodeKind, string]>([['qr', 'QRCode'], ['code128', 'Code128']])('drawn as %s is read back by an independent reader as the same wire', async (kind, format) => {
    const draw = await loadCodeDrawer();
    for (const tag of TAGS) {
      const text = printWireCode(jobId, tag);
      expect(await readBack(draw(kind, text), 3), tag).toEqual([{ text, format }]);
      expect(readWireCode(text)).toEqual({ jobId, tag });
    }
  });

  it('of a plain tag is a QR symbol of version 3: 29 modules and four of quiet on each side', async () => {
    // Source: ISO/IEC 18004: version 3 has 29 modules a side and holds 47 alphanumeric characters at level Q (from memory).
    const draw = await loadCodeDrawer();
    expect(draw('qr', printWireCode(jobId, 'W1'))).toMatchObject({ wide: 37, high: 37 });
    expect(printWireCode(jobId, 'W1').length).toBeLessThanOrEqual(47);
  });

  it('as Code 128 has the width that its characters add up to', async () => {
    // Source: ISO/IEC 15417: 11 modules a symbol character, 13 the stop; start, check and stop included (from memory). 39 characters, none of them doubled up.
    const draw = await loadCodeDrawer();
    const { wide, high } = draw('code128', `LW1:${'ABCDEF'.repeat(5)}AB:W1`);
    expect([wide, high]).toEqual([(1 + 39 + 1) * 11 + 13 + 2 * 10, 48]);
  });

  it('as Code 128 begins and ends as the standard has it, module by module', async () => {
    // Source: ISO/IEC 15417: start B is 2 1 1 2 1 4, the stop 2 3 3 1 1 1 2, bars and spaces in turn (from memory).
    const draw = await loadCodeDrawer();
    const { wide, path } = draw('code128', printWireCode(jobId, 'W1'));
    const bars = [...path.matchAll(/M([\d.]+) 0H([\d.]+)/g)].map(([, from, to]) => [Number(from), Number(to)]).toSorted((a, b) => a[0]! - b[0]!);
    expect(bars.slice(0, 3)).toEqual([[10, 12], [13, 14], [16, 17]]);
    expect(bars.slice(-4).map(([from, to]) => [wide - 10 - to!, wide - 10 - from!])).toEqual([[11, 13], [5, 8], [3, 4], [0, 2]]);
  });

  it('is read with a spot of grease of seven modules by seven on it', async () => {
    const draw = await loadCodeDrawer();
    const text = printWireCode(jobId, 'W12');
    expect(await readBack(draw('qr', text), 4, ['M14 16H21V23H14Z'])).toEqual([{ text, format: 'QRCode' }]);
  });
});

/** Black paths on white paper, as a printer would put them: dots of RGBA. Each path is filled by the even-odd rule; M, L, H, V and Z alone are read. */
function rasterPaths(wide: number, high: number, paths: readonly string[], dotsPerModule: number): { data: Uint8ClampedArray; width: number; height: number } {
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
