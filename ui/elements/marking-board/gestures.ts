import type { Spot } from './board-view.ts';

/** What fingers, a pen or a mouse ask of the board. Places are css px from its corner. */
export interface BoardHand {
  /** whether a drag that begins here is to be aimed at once: on a mark, or where there is nothing to move */
  readonly aimsAt: (at: Spot) => boolean;
  /** a mark is being aimed: the magnifier shows it */
  readonly aim: (at: Spot) => void;
  /** put where the last aim was; `sure` when it was aimed, not just tapped by a finger */
  readonly put: (at: Spot, sure: boolean) => void;
  readonly callOff: () => void;
  readonly pan: (by: Spot) => void;
  readonly zoom: (factor: number, about: Spot) => void;
}

/** Held so long without moving, a finger aims instead of moving the picture, ms. */
const HOLD_MS = 220;
/** A finger that has moved less has not moved, css px. */
const STILL_PX = 8;

/**
 * One finger: a tap puts a mark; held, it aims and puts on letting go; moved at once, it moves the picture. Two fingers move and zoom.
 * Plain logic over pointer events, so that it can be tested without a page.
 */
export class Gestures {
  #hand: BoardHand;
  #later: (work: () => void, ms: number) => () => void;
  #fingers = new Map<number, Spot>();
  #mode: 'idle' | 'pressed' | 'aiming' | 'panning' | 'pinching' = 'idle';
  #start: Spot = { x: 0, y: 0 };
  #callOffHold: () => void = () => {};

  constructor(hand: BoardHand, later: (work: () => void, ms: number) => () => void) {
    this.#hand = hand;
    this.#later = later;
  }

  down(id: number, at: Spot): void {
    this.#fingers.set(id, at);
    if (this.#fingers.size > 1) {
      this.#callOffHold();
      if (this.#mode === 'aiming') this.#hand.callOff();
      this.#mode = 'pinching';
      return;
    }
    this.#start = at;
    this.#mode = 'pressed';
    this.#callOffHold = this.#later(() => this.#startAiming(at), HOLD_MS);
  }

  move(id: number, at: Spot): void {
    const before = this.#fingers.get(id);
    if (before === undefined) return;
    if (this.#mode === 'pinching') this.#pinch(id, at);
    this.#fingers.set(id, at);
    switch (this.#mode) {
      case 'aiming': this.#hand.aim(at); break;
      case 'panning': this.#hand.pan({ x: at.x - before.x, y: at.y - before.y }); break;
      case 'pressed':
        if (Math.hypot(at.x - this.#start.x, at.y - this.#start.y) < STILL_PX) return;
        this.#callOffHold();
        if (this.#hand.aimsAt(this.#start)) this.#startAiming(at);
        else {
          this.#mode = 'panning';
          this.#hand.pan({ x: at.x - this.#start.x, y: at.y - this.#start.y });
        }
        break;
      case 'idle': case 'pinching': break;
    }
  }

  up(id: number, at: Spot): void {
    if (!this.#fingers.delete(id)) return;
    this.#callOffHold();
    const mode = this.#mode;
    // After a pinch the finger that is left does nothing: it was not meant for a mark.
    if (this.#fingers.size > 0) return;
    this.#mode = 'idle';
    if (mode === 'aiming') this.#hand.put(at, true);
    if (mode === 'pressed') this.#hand.put(at, false);
  }

  cancel(id: number): void {
    this.#fingers.delete(id);
    this.#callOffHold();
    if (this.#mode === 'aiming') this.#hand.callOff();
    if (this.#fingers.size === 0) this.#mode = 'idle';
  }

  #startAiming(at: Spot): void {
    this.#mode = 'aiming';
    this.#hand.aim(at);
  }

  #pinch(id: number, at: Spot): void {
    const before = [...this.#fingers.values()].slice(0, 2);
    const after = [...this.#fingers].slice(0, 2).map(([finger, spot]) => (finger === id ? at : spot));
    const [a, b, c, d] = [before[0], before[1], after[0], after[1]];
    if (!a || !b || !c || !d) return;
    const middle = (p: Spot, q: Spot): Spot => ({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 });
    const [from, to] = [middle(a, b), middle(c, d)];
    this.#hand.pan({ x: to.x - from.x, y: to.y - from.y });
    const apart = Math.hypot(a.x - b.x, a.y - b.y);
    if (apart > 1) this.#hand.zoom(Math.hypot(c.x - d.x, c.y - d.y) / apart, to);
  }
}
