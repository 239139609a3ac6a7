import { describe, expect, it } from 'vitest';
import type { CustomerRecord } from '../../catalog-schema/index.ts';
import { printRecord } from './print-record.ts';
import { drawRecordPdf } from './record-pdf.ts';

const lines = (count: number): { what: string; showed: string }[] => Array.from({ length: count }, (_, n) => ({ what: `Volts, plus post to relay, battery stud, START held, number ${n}`, showed: `${n}.5 V` }));
function makePage(readings: number): CustomerRecord {
  return {
    title: 'Quay sweeper', machine: 'Sweeper 3', customer: null,
    found: { proven: true, words: 'Proven by measurement: the main contacts of the relay do not carry.', settles: null },
    measured: lines(readings).map((line, n) => ({ ...line, carries: n === 1 })), bench: lines(8),
    replaced: { words: 'Fitted: Relay (p).', evidence: { proven: 'relay-contacts', orderable: true, words: 'Proven: the main contacts of the relay do not carry.', settles: null }, wiring: ['Wire W1: from A to B'] },
    notNeeded: ['the battery', 'the starter'],
    shown: [{ what: 'Open “Seat”, hold START', showed: 'good', good: true, interlock: true }, { what: 'Coil, S to G', showed: '3.5 Ω, good', good: true, interlock: false }],
    released: { state: 'stands', by: 'Ans', at: '2026-11-25T12:00:00.000Z' },
  };
}
async function readPdf(page: CustomerRecord, paper: 'a4' | 'letter'): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of drawRecordPdf(page, paper, { compress: false })) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('latin1');
}
const pagesOf = (pdf: string): number => pdf.match(/\/Type\s*\/Page\b/g)!.length;

describe('the customer’s page', () => {
  it.each(['a4', 'letter'] as const)('is one sheet of %s with forty readings', async (paper) => {
    expect(pagesOf(await readPdf(makePage(40), paper))).toBe(1);
  });

  it('goes on over the page where it has to, and loses nothing', async () => {
    expect(pagesOf(await readPdf(makePage(190), 'a4'))).toBeGreaterThan(1);
  });

  it('is printed for a terminal with what carries the verdict, what was not needed, the safety switches and the release', () => {
    const text = printRecord(makePage(2));
    for (const said of ['1.5 V, shows it', 'Shown good, and not replaced: the battery and the starter.', 'Safety switches, each tried\n  - Open “Seat”', 'Signed off by Ans', 'Wire W1: from A to B']) expect(text).toContain(said);
  });
});
