const LANCZOS = [
  76.1800917294715, -86.5053203294168, 24.01409824083091, -1.231739572450155, 0.1208650973866179e-2, -0.5395239384953e-5,
] as const;

/** ln of the gamma function, x > 0; error below 2e-10 (Lanczos; Press et al., Numerical Recipes, section 6.1, from memory). */
export function logGamma(x: number): number {
  const base = x + 5.5 - (x + 0.5) * Math.log(x + 5.5);
  const series = LANCZOS.reduce((sum, factor, index) => sum + factor / (x + 1 + index), 1.000000000190015);
  return Math.log(2.506628274631 * series / x) - base;
}

/** Share of a gamma distribution of shape a and scale 1 above x (series and continued fraction; ibid., section 6.2, from memory). */
export function gammaTail(a: number, x: number): number {
  if (x <= 0) return 1;
  const front = Math.exp(-x + a * Math.log(x) - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < 1000 && Math.abs(term) > Math.abs(sum) * 1e-15; n++) {
      term *= x / (a + n);
      sum += term;
    }
    return Math.max(0, 1 - sum * front);
  }
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < 1000; n++) {
    const factor = -n * (n - a);
    b += 2;
    d = 1 / guard(factor * d + b);
    c = guard(b + factor / c);
    h *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  return front * h;
}

/** Share of the chi-square distribution above x. */
export function chiSquareTail(freedom: number, x: number): number {
  return gammaTail(freedom / 2, x / 2);
}

function guard(value: number): number { return Math.abs(value) < 1e-300 ? 1e-300 : value; }
