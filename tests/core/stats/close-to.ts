import { expect } from "vitest";

/** Expect a relative difference of at most `tolerance`; 0 must be met to within `tolerance` itself. */
export function expectRelative(found: number, wanted: number, tolerance: number): void {
  const scale = wanted === 0 ? 1 : Math.abs(wanted);
  const error = Math.abs(found - wanted) / scale;
  expect(error, `found ${found}, wanted ${wanted}, relative difference ${error}`).toBeLessThanOrEqual(
    tolerance,
  );
}
