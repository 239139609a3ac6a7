/** Corners there is room for at first: a cut seldom leaves more than a dozen. */
const FIRST_CORNERS = 24;
/** An area below this is a point or a line, mm2. */
const LEAST_AREA = 1e-24;

/** A convex region of the plane that is cut down by half-planes. It keeps its arrays, from one `begin` to the next too. */
export class Region {
  #x = new Float64Array(FIRST_CORNERS);
  #y = new Float64Array(FIRST_CORNERS);
  #spareX = new Float64Array(FIRST_CORNERS);
  #spareY = new Float64Array(FIRST_CORNERS);
  #count = 0;
  middleX = 0;
  middleY = 0;

  /** Start with a box. */
  begin(lowX: number, highX: number, lowY: number, highY: number): void {
    this.#x[0] = this.#x[3] = lowX;
    this.#x[1] = this.#x[2] = highX;
    this.#y[0] = this.#y[1] = lowY;
    this.#y[2] = this.#y[3] = highY;
    this.#count = 4;
  }

  /** Its centre of gravity goes to `middleX`, `middleY`; false once there is no area left. */
  findMiddle(): boolean {
    const count = this.#count;
    if (count < 3) return false;
    // Seen from a corner, so that little is lost where the region is small and far off.
    const fromX = this.#x[0]!;
    const fromY = this.#y[0]!;
    let area = 0;
    let sumX = 0;
    let sumY = 0;
    for (let i = 1; i + 1 < count; i++) {
      const ax = this.#x[i]! - fromX;
      const ay = this.#y[i]! - fromY;
      const bx = this.#x[i + 1]! - fromX;
      const by = this.#y[i + 1]! - fromY;
      const twice = ax * by - ay * bx;
      area += twice;
      sumX += twice * (ax + bx);
      sumY += twice * (ay + by);
    }
    if (!(area > LEAST_AREA)) return false;
    this.middleX = fromX + sumX / (3 * area);
    this.middleY = fromY + sumY / (3 * area);
    return true;
  }

  /** The least of alongX * x + alongY * y over the region. */
  leastAlong(alongX: number, alongY: number): number {
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < this.#count; i++) least = Math.min(least, alongX * this.#x[i]! + alongY * this.#y[i]!);
    return least;
  }

  /** Keep what has alongX * x + alongY * y at most `limit`. */
  cut(alongX: number, alongY: number, limit: number): void {
    const count = this.#count;
    if (count + 2 > this.#x.length) this.#grow();
    let kept = 0;
    let beforeX = this.#x[count - 1]!;
    let beforeY = this.#y[count - 1]!;
    let before = alongX * beforeX + alongY * beforeY - limit;
    for (let i = 0; i < count; i++) {
      const hereX = this.#x[i]!;
      const hereY = this.#y[i]!;
      const here = alongX * hereX + alongY * hereY - limit;
      if (before * here < 0) {
        const share = before / (before - here);
        this.#spareX[kept] = beforeX + share * (hereX - beforeX);
        this.#spareY[kept++] = beforeY + share * (hereY - beforeY);
      }
      if (here <= 0) {
        this.#spareX[kept] = hereX;
        this.#spareY[kept++] = hereY;
      }
      beforeX = hereX;
      beforeY = hereY;
      before = here;
    }
    this.#count = kept;
    [this.#x, this.#spareX] = [this.#spareX, this.#x];
    [this.#y, this.#spareY] = [this.#spareY, this.#y];
  }

  #grow(): void {
    const longer = (from: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> => {
      const to = new Float64Array(from.length * 2);
      to.set(from);
      return to;
    };
    this.#x = longer(this.#x);
    this.#y = longer(this.#y);
    this.#spareX = longer(this.#spareX);
    this.#spareY = longer(this.#spareY);
  }
}
