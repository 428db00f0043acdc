/** Where a search ended: the point, the value there, and whether the simplex had closed upon it. */
export interface SimplexEnd {
  point: number[];
  value: number;
  converged: boolean;
}

/**
 * Looks for the highest value of a function without derivatives. Values of -Infinity and NaN count as impossible and are left.
 *
 * Source: Nelder & Mead (1965), A simplex method for function minimization, The Computer Journal 7, with the usual
 * coefficients 1, 2, 1/2, 1/2 (cited from memory).
 *
 * @param strides first size of the simplex along each coordinate
 */
export function climbSimplex(
  f: (point: readonly number[]) => number,
  start: readonly number[],
  strides: readonly number[],
  tolerance = 1e-11,
  most = 4000,
): SimplexEnd {
  const height = (point: readonly number[]): number => {
    const value = f(point);
    return Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value;
  };
  const n = start.length;
  const corner = (point: number[]) => ({ point, value: height(point) });
  let simplex = [corner([...start])];
  for (let i = 0; i < n; i += 1) {
    simplex.push(corner(start.map((value, j) => (i === j ? value + (strides[i] ?? 0.1) : value))));
  }
  const sort = () => {
    simplex.sort((a, b) => b.value - a.value);
  };
  sort();
  for (let step = 0; step < most; step += 1) {
    const best = simplex[0] as SimplexEnd;
    const worst = simplex[n] as SimplexEnd;
    const second = simplex[n - 1] as SimplexEnd;
    if (best.value - worst.value <= tolerance * (1 + Math.abs(best.value))) {
      return { point: best.point, value: best.value, converged: true };
    }
    const centre = start.map(
      (_, j) => simplex.slice(0, n).reduce((sum, one) => sum + (one.point[j] ?? 0), 0) / n,
    );
    const along = (by: number) =>
      corner(centre.map((value, j) => value + by * ((worst.point[j] ?? 0) - value)));
    const mirrored = along(-1);
    let chosen = mirrored;
    if (mirrored.value > best.value) {
      const further = along(-2);
      if (further.value > mirrored.value) chosen = further;
    } else if (!(mirrored.value > second.value)) {
      const nearer = mirrored.value > worst.value ? along(-0.5) : along(0.5);
      if (nearer.value > Math.max(mirrored.value, worst.value)) chosen = nearer;
      else {
        simplex = simplex.map((one, i) =>
          i === 0 ? one : corner(one.point.map((value, j) => (value + (best.point[j] ?? 0)) / 2)),
        );
        sort();
        continue;
      }
    }
    simplex[n] = chosen as (typeof simplex)[number];
    sort();
  }
  const best = simplex[0] as SimplexEnd;
  return { point: best.point, value: best.value, converged: false };
}
