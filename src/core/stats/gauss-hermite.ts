/** Nodes x and weights w, already multiplied by e^(x²): ∫ f(x) dx ≈ Σ w f(x) for an f that falls like e^(-x²). */
export interface HermiteRule {
  nodes: readonly number[];
  weights: readonly number[];
}

const known = new Map<number, HermiteRule>();

/**
 * Gauss-Hermite rule with n nodes, exact where f is e^(-x²) times a polynomial of degree below 2n.
 *
 * The nodes are the eigenvalues of the Jacobi matrix of the Hermite polynomials, by bisection on the count of sign changes;
 * the weights are 1 / Σ h_j(x)² of the orthonormal Hermite functions, which do not overflow. Computed once for each n.
 *
 * Source: Golub G H, Welsch J H (1969) Math Comp 23:221-230; Abramowitz & Stegun (1964) 25.4.46, table 25.10.
 *
 * @throws RangeError unless n is a whole number from 1 to 500
 */
export function gaussHermite(n: number): HermiteRule {
  if (!(Number.isInteger(n) && n >= 1 && n <= 500)) {
    throw new RangeError(`number of nodes must be a whole number from 1 to 500 but is ${n}`);
  }
  const before = known.get(n);
  if (before !== undefined) return before;
  const nodes = Array.from({ length: n }, (_, index) => eigenvalue(n, index));
  const rule = { nodes, weights: nodes.map((x) => 1 / squaredFunctions(n, x)) };
  known.set(n, rule);
  return rule;
}

/** The eigenvalue of the Jacobi matrix with exactly `index` smaller ones. */
function eigenvalue(n: number, index: number): number {
  if (2 * index + 1 === n) return 0;
  if (2 * index + 1 > n) return -eigenvalue(n, n - 1 - index);
  let low = -Math.sqrt(2 * n + 1);
  let high = 0;
  for (let halving = 0; halving < 60; halving += 1) {
    const middle = (low + high) / 2;
    if (countBelow(n, middle) > index) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

/** How many eigenvalues lie below x: sign changes of the Sturm sequence. */
function countBelow(n: number, x: number): number {
  let count = 0;
  let pivot = 1;
  for (let i = 0; i < n; i += 1) {
    pivot = -x - i / 2 / pivot;
    if (pivot === 0) pivot = 1e-300;
    if (pivot < 0) count += 1;
  }
  return count;
}

function squaredFunctions(n: number, x: number): number {
  let previous = 0;
  let current = Math.PI ** -0.25 * Math.exp(-0.5 * x * x);
  let sum = 0;
  for (let j = 0; j < n; j += 1) {
    sum += current * current;
    const next = x * Math.sqrt(2 / (j + 1)) * current - Math.sqrt(j / (j + 1)) * previous;
    previous = current;
    current = next;
  }
  return sum;
}
