/** What the page measures; times in ms. */
export interface PageTimes {
  /** of `loadMs`: bytes out of the device's store */
  readonly readMs: number;
  readonly loadMs: number;
  readonly priceMs: number;
  readonly fitMs: readonly number[];
  readonly listed: number;
  readonly longestFrameMs: number;
  readonly frames: number;
  readonly longTasks: readonly number[];
}

/** What the page offers to the script that drives it. */
export interface PageCalls {
  /** @returns bytes of the catalogue */
  keepCatalogue(): Promise<number>;
  timeFits(most: number, warmUp: number): Promise<PageTimes>;
}
