/**
 * The smallest whole number from `first` on for which a condition holds, given that it then holds for every larger one.
 *
 * Doubling steps, then halving: about 2 log2(answer - first) calls.
 *
 * @throws RangeError if the condition does not hold up to 2^53
 */
export function smallestWhole(first: number, holds: (n: number) => boolean): number {
  if (holds(first)) return first;
  let failing = first;
  let step = 1;
  while (!holds(failing + step)) {
    failing += step;
    step *= 2;
    if (failing + step > Number.MAX_SAFE_INTEGER) {
      throw new RangeError(`no whole number from ${first} to 2^53 meets the condition`);
    }
  }
  let holding = failing + step;
  while (holding - failing > 1) {
    const middle = failing + Math.floor((holding - failing) / 2);
    if (holds(middle)) holding = middle;
    else failing = middle;
  }
  return holding;
}
