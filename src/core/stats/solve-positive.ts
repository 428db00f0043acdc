/**
 * The x with A x = b for a symmetric positive definite A, by Cholesky's factors.
 *
 * @param matrix n rows of n; only the lower triangle is read
 * @param right n numbers
 * @returns null where A is not positive definite
 */
export function solvePositive(
  matrix: readonly (readonly number[])[],
  right: readonly number[],
): number[] | null {
  const size = right.length;
  const factor: Float64Array[] = [];
  const x = Float64Array.from(right);
  for (let i = 0; i < size; i += 1) {
    const row = Float64Array.from({ length: size }, (_, j) => matrix[i]?.[j] ?? 0);
    factor.push(row);
    for (let j = 0; j <= i; j += 1) {
      const other = factor[j] as Float64Array;
      let sum = row[j] as number;
      for (let m = 0; m < j; m += 1) sum -= (row[m] as number) * (other[m] as number);
      if (j < i) row[j] = sum / (other[j] as number);
      else if (sum > 0) row[i] = Math.sqrt(sum);
      else return null;
    }
    let sum = x[i] as number;
    for (let m = 0; m < i; m += 1) sum -= (row[m] as number) * (x[m] as number);
    x[i] = sum / (row[i] as number);
  }
  for (let i = size - 1; i >= 0; i -= 1) {
    let sum = x[i] as number;
    for (let m = i + 1; m < size; m += 1) sum -= (factor[m]?.[i] as number) * (x[m] as number);
    x[i] = sum / (factor[i]?.[i] as number);
  }
  return [...x];
}
