import { describe, expect, it } from 'vitest';
import { fitView, isWhole, panView, showSpot, toBoard, toPicture, zoomView } from './board-view.ts';

const picture = { width: 4000, height: 3000 };
const board = { width: 390, height: 400 };
const whole = fitView(picture, board);

describe('what the board shows of a picture', () => {
  it('is the whole of it at first, in the middle', () => {
    expect(whole.scale).toBeCloseTo(0.0975, 6);
    expect(toBoard(whole, { x: 2000, y: 1500 })).toEqual({ x: 195, y: 200 });
    expect(isWhole(whole, picture, board)).toBe(true);
  });

  it('grows about a place that stays where it is', () => {
    const about = { x: 100, y: 220 };
    const held = toPicture(whole, about);
    const near = zoomView(whole, 6, about, picture, board);
    expect(near.scale).toBeCloseTo(0.585, 6);
    expect(toBoard(near, held).x).toBeCloseTo(about.x, 6);
    expect(toBoard(near, held).y).toBeCloseTo(about.y, 6);
    expect(isWhole(near, picture, board)).toBe(false);
  });

  it('is never smaller than the whole picture nor larger than eight to one', () => {
    expect(zoomView(whole, 0.1, { x: 0, y: 0 }, picture, board).scale).toBe(whole.scale);
    expect(zoomView(whole, 1e6, { x: 195, y: 200 }, picture, board).scale).toBe(8);
    const small = { width: 20, height: 20 };
    expect(zoomView(fitView(small, board), 5, { x: 1, y: 1 }, small, board).scale).toBe(19.5);
  });

  it('moves with the finger up to the picture’s rim', () => {
    const near = zoomView(whole, 10, { x: 195, y: 200 }, picture, board);
    const held = toPicture(near, { x: 50, y: 50 });
    const moved = panView(near, { x: 30, y: -20 }, picture, board);
    expect(toBoard(moved, held).x).toBeCloseTo(80, 6);
    expect(toBoard(moved, held).y).toBeCloseTo(30, 6);
    expect(toPicture(panView(near, { x: 1e6, y: 1e6 }, picture, board), { x: 0, y: 0 })).toEqual({ x: 0, y: 0 });
    const end = toPicture(panView(near, { x: -1e6, y: -1e6 }, picture, board), { x: 390, y: 400 });
    expect(end.x).toBeCloseTo(4000, 6);
    expect(end.y).toBeCloseTo(3000, 6);
  });

  it('comes to a place that is out of view, and stays where the place is in view', () => {
    const near = zoomView(whole, 10, { x: 195, y: 200 }, picture, board);
    const far = { x: 3990, y: 20 };
    const shown = toBoard(showSpot(near, far, picture, board), far);
    expect(shown.x).toBeGreaterThan(0);
    expect(shown.x).toBeLessThanOrEqual(390);
    expect(shown.y).toBeGreaterThanOrEqual(0);
    expect(showSpot(near, toPicture(near, { x: 195, y: 200 }), picture, board)).toEqual(near);
  });
});
