import type { BenchRecord, BodySize, Part } from '../../../catalog-schema/index.ts';
import { askMaker, chanceOf, show, type Finding, type Reading } from './finding.ts';

const ASK_ROOM: Reading = { what: 'the room on the machine, with a steel rule or a caliper instead of a tape', from: 'bench' };

/**
 * Body inside the room, its length and width in either turn, its height as it stands. Room that is known to `plusMinusMm` passes with all of
 * that interval; without it the figures are taken as they stand.
 */
export function checkSpace(record: BenchRecord, part: Part): Finding | null {
  const room = record.space;
  if (!room) return null;
  const { plusMinusMm = 0 } = room;
  const needed = `inside ${describeSize(room)}${plusMinusMm > 0 ? `, known to ${show(plusMinusMm)} mm` : ''}`;
  const body = part.body;
  if (!body) {
    return { criterion: 'space', outcome: 'unknown', needed, offered: 'not given', why: 'the part does not give its size', unsaid: true, readings: [askMaker('size of the body', part)] };
  }
  const spareMm = (length: number, width: number): number => Math.min(room.lengthMm - length, room.widthMm - width);
  const high = room.heightMm - body.heightMm;
  const straight = spareMm(body.lengthMm, body.widthMm);
  const turned = spareMm(body.widthMm, body.lengthMm);
  const spare = Math.min(high, Math.max(straight, turned));
  const offered = describeSize(body);
  const fits = (mm: number): boolean => mm >= plusMinusMm - 1e-9;
  if (fits(spare)) return { criterion: 'space', outcome: 'pass', needed, offered, why: fits(straight) ? 'the body goes in' : 'the body goes in turned a quarter' };
  if (spare < -plusMinusMm - 1e-9) {
    return { criterion: 'space', outcome: 'fail', needed, offered, why: high < -plusMinusMm - 1e-9 ? `${show(-high)} mm too high` : 'length and width do not go in, either way round' };
  }
  return {
    criterion: 'space', outcome: 'unknown', needed, offered, why: `${spare < 0 ? `as measured it is ${show(-spare)} mm too large` : `as measured it has ${show(spare)} mm to spare`}, and the room is known to ${show(plusMinusMm)} mm only`,
    probability: chanceOfRoom(room, body, plusMinusMm / 2), hangsOn: 'room on the machine', readings: [ASK_ROOM],
  };
}

/** That each side is long enough, each with a normal error of its own, in the better turn. */
function chanceOfRoom({ lengthMm, widthMm, heightMm }: BodySize, body: BodySize, sigma: number): number {
  const chanceIn = (length: number, width: number): number => chanceOf(lengthMm - length, sigma) * chanceOf(widthMm - width, sigma);
  return chanceOf(heightMm - body.heightMm, sigma) * Math.max(chanceIn(body.lengthMm, body.widthMm), chanceIn(body.widthMm, body.lengthMm));
}

/**
 * Each IEC 60529 digit at least as high as asked; a second digit of 7 or 8 (immersion) does not include 5 or 6 (jets).
 * A digit written X was not tested: nothing is asked by it, and it answers nothing.
 */
export function checkSealing(record: BenchRecord, part: Part): Finding | null {
  const asked = record.demand?.minSealing;
  if (asked === undefined) return null;
  const given = part.sealing;
  if (given === undefined) {
    return { criterion: 'sealing', outcome: 'unknown', needed: asked, offered: 'not given', why: 'the part does not give its sealing', unsaid: true, readings: [askMaker('IEC 60529 code', part)] };
  }
  const solids = compareDigit(asked[2], given[2]);
  const water = includesWater(asked[3], given[3]);
  const found = (outcome: Finding['outcome'], why: string): Finding => ({
    criterion: 'sealing', outcome, needed: asked, offered: given, why, unsaid: outcome === 'unknown', readings: [askMaker('IEC 60529 digit that is X in the code', part)],
  });
  if (solids === 'fail' || water === 'fail') {
    const jets = (given[3] === '7' || given[3] === '8') && (asked[3] === '5' || asked[3] === '6');
    return found('fail', jets ? `${given} is for immersion and does not include water jets` : `${given} is less than ${asked}`);
  }
  return solids === 'unknown' || water === 'unknown' ? found('unknown', `${given} leaves a digit untested`) : found('pass', `${given} covers ${asked}`);
}

/** The part's range contains the machine's. */
export function checkAmbient(record: BenchRecord, part: Part): Finding | null {
  const asked = record.system.ambientC;
  if (!asked) return null;
  const needed = `${show(asked.min)} to ${show(asked.max)} C`;
  const given = part.ambientC;
  if (!given) {
    return { criterion: 'ambient', outcome: 'unknown', needed, offered: 'not given', why: 'the part does not give its temperatures', unsaid: true, readings: [askMaker('ambient temperatures', part)] };
  }
  const low = given.min <= asked.min;
  const high = given.max >= asked.max;
  const why = low && high ? 'its range contains the machine\'s' : !low ? `not made for below ${show(given.min)} C` : `not made for above ${show(given.max)} C`;
  return { criterion: 'ambient', outcome: low && high ? 'pass' : 'fail', needed, offered: `${show(given.min)} to ${show(given.max)} C`, why };
}

/** Whether one IEC 60529 code includes another for certain. */
export function includesSealing(given: string, asked: string): boolean {
  return compareDigit(asked[2], given[2]) === 'pass' && includesWater(asked[3], given[3]) === 'pass';
}

function compareDigit(asked = 'X', given = 'X'): 'pass' | 'unknown' | 'fail' {
  if (asked === 'X') return 'pass';
  if (given === 'X') return Number(asked) === 0 ? 'pass' : 'unknown';
  return Number(given) >= Number(asked) ? 'pass' : 'fail';
}

function includesWater(asked: string | undefined, given: string | undefined): 'pass' | 'unknown' | 'fail' {
  const immersion = given === '7' || given === '8';
  if (immersion && (asked === '5' || asked === '6')) return 'fail';
  return compareDigit(asked, given);
}

function describeSize({ lengthMm, widthMm, heightMm }: BodySize): string {
  return `${show(lengthMm)} x ${show(widthMm)} x ${show(heightMm)} mm`;
}
