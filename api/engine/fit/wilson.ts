/** Standard normal quantile of 97.5 %. */
const Z95 = 1.959963984540054;

/**
 * 95 % Wilson score interval of a share, from so many that held among so many tried.
 * Wilson, "Probable Inference, the Law of Succession, and Statistical Inference", J. American Statistical Association 22 (1927) 209-212
 * (volume and pages from memory).
 */
export function wilsonInterval(held: number, tried: number): { low: number; high: number } {
  if (tried <= 0) return { low: 0, high: 1 };
  const share = held / tried;
  const square = Z95 ** 2 / tried;
  const middle = share + square / 2;
  const half = Z95 * Math.sqrt((share * (1 - share)) / tried + square / (4 * tried));
  return { low: Math.max(0, (middle - half) / (1 + square)), high: Math.min(1, (middle + half) / (1 + square)) };
}
