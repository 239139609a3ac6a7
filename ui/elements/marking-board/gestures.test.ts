import { describe, expect, it } from 'vitest';
import { Gestures } from './gestures.ts';

/** A hand that writes down what it is asked, and a timer the test lets run out. */
function makeBoard(aims = false) {
  const said: string[] = [];
  let hold: (() => void) | undefined;
  const round = (value: number) => Math.round(value * 100) / 100;
  const gestures = new Gestures({
    aimsAt: () => aims, aim: ({ x, y }) => said.push(`aim ${x} ${y}`), put: ({ x, y }, sure) => said.push(`put ${x} ${y}${sure ? ' sure' : ''}`),
    callOff: () => said.push('call off'), pan: ({ x, y }) => said.push(`pan ${x} ${y}`), zoom: (factor, { x, y }) => said.push(`zoom ${round(factor)} ${x} ${y}`),
  }, (work) => {
    hold = work;
    return () => { hold = undefined; };
  });
  return { gestures, said, waitOut: () => hold?.() };
}

describe('a hand on the board', () => {
  it('puts a mark by a tap, less surely than by aiming', () => {
    const { gestures, said } = makeBoard();
    gestures.down(1, { x: 10, y: 20 });
    gestures.move(1, { x: 13, y: 21 });
    gestures.up(1, { x: 13, y: 21 });
    expect(said).toEqual(['put 13 21']);
  });

  it('aims once held, and puts where it lets go', () => {
    const { gestures, said, waitOut } = makeBoard();
    gestures.down(1, { x: 10, y: 20 });
    waitOut();
    gestures.move(1, { x: 60, y: 25 });
    gestures.up(1, { x: 61, y: 25 });
    expect(said).toEqual(['aim 10 20', 'aim 60 25', 'put 61 25 sure']);
  });

  it('moves the picture when it moves at once, and puts nothing', () => {
    const { gestures, said } = makeBoard();
    gestures.down(1, { x: 10, y: 20 });
    gestures.move(1, { x: 30, y: 20 });
    gestures.move(1, { x: 35, y: 22 });
    gestures.up(1, { x: 35, y: 22 });
    expect(said).toEqual(['pan 20 0', 'pan 5 2']);
  });

  it('aims at once on a mark, or where there is nothing to move', () => {
    const { gestures, said } = makeBoard(true);
    gestures.down(1, { x: 10, y: 20 });
    gestures.move(1, { x: 30, y: 20 });
    gestures.up(1, { x: 31, y: 20 });
    expect(said).toEqual(['aim 30 20', 'put 31 20 sure']);
  });

  it('moves and zooms with two fingers, calls off what was aimed, and the last finger to leave puts nothing', () => {
    const { gestures, said, waitOut } = makeBoard();
    gestures.down(1, { x: 0, y: 0 });
    waitOut();
    gestures.down(2, { x: 100, y: 0 });
    gestures.move(2, { x: 200, y: 0 });
    gestures.up(2, { x: 200, y: 0 });
    gestures.move(1, { x: 50, y: 50 });
    gestures.up(1, { x: 50, y: 50 });
    expect(said).toEqual(['aim 0 0', 'call off', 'pan 50 0', 'zoom 2 100 0']);
  });

  it('puts nothing when the browser takes the finger away', () => {
    const { gestures, said, waitOut } = makeBoard();
    gestures.down(1, { x: 0, y: 0 });
    waitOut();
    gestures.cancel(1);
    gestures.up(1, { x: 0, y: 0 });
    expect(said).toEqual(['aim 0 0', 'call off']);
  });
});
