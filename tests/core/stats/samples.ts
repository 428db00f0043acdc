import fc from "fast-check";

/** k of n, with the ends drawn often. */
export const sample = fc.integer({ min: 1, max: 400 }).chain((n) => {
  return fc.record({
    n: fc.constant(n),
    k: fc.oneof({ weight: 4, arbitrary: fc.integer({ min: 0, max: n }) }, fc.constantFrom(0, n)),
  });
});

/** A confidence level between a tenth and 1 - 10^-5. */
export const level = fc.double({ min: 0.1, max: 0.99999, noNaN: true });

/** Two groups of counts, with the ends drawn often. */
export const twoGroups = fc.tuple(sample, sample).map(([first, second]) => {
  return { x1: first.k, n1: first.n, x2: second.k, n2: second.n };
});
