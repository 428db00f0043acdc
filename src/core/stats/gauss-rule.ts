/** Nodes and weights: Σ w f(x) stands for the integral, or the sum, of f. */
export interface GaussRule {
  nodes: readonly number[];
  weights: readonly number[];
}

/**
 * Gauss rule of a measure that is symmetric about 0, from the recurrence of its orthogonal polynomials
 * x p_j = √b_(j+1) p_(j+1) + √b_j p_(j-1).
 *
 * The nodes are the eigenvalues of the Jacobi matrix, by bisection on the count of sign changes; the weights are
 * mass / Σ p_j(x)².
 *
 * Source: Golub G H, Welsch J H (1969) Math Comp 23:221-230, section 2; Gautschi W (2004) Orthogonal Polynomials, section
 * 3.1.1.
 *
 * @param squares b_1 to b_(n-1), all above 0, for a rule with n nodes
 * @param mass integral of 1
 */
export function gaussRule(squares: readonly number[], mass: number): GaussRule {
  const count = squares.length + 1;
  const reach = 2 * Math.sqrt(Math.max(0, ...squares));
  const nodes: number[] = [];
  for (let index = 0; index < count; index += 1) {
    const mirror = nodes[count - 1 - index];
    if (mirror !== undefined) nodes.push(-mirror);
    else nodes.push(2 * index + 1 === count ? 0 : eigenvalue(squares, index, -reach));
  }
  return { nodes, weights: nodes.map((x) => mass / squaredPolynomials(squares, x)) };
}

/** The eigenvalue, between `least` and 0, with exactly `index` smaller ones. */
function eigenvalue(squares: readonly number[], index: number, least: number): number {
  let low = least;
  let high = 0;
  for (let halving = 0; halving < 80 && high - low > 1e-16 * -low; halving += 1) {
    const middle = (low + high) / 2;
    if (countBelow(squares, middle) > index) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

function countBelow(squares: readonly number[], x: number): number {
  let pivot = -x;
  let count = pivot < 0 ? 1 : 0;
  for (const square of squares) {
    pivot = -x - square / (pivot === 0 ? 1e-300 : pivot);
    if (pivot < 0) count += 1;
  }
  return count;
}

function squaredPolynomials(squares: readonly number[], x: number): number {
  let previous = 0;
  let current = 1;
  let sum = 1;
  let before = 0;
  for (const square of squares) {
    const next = (x * current - before * previous) / Math.sqrt(square);
    before = Math.sqrt(square);
    previous = current;
    current = next;
    sum += current * current;
  }
  return sum;
}
