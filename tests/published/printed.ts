import { expect } from "vitest";

/** Expect a value to agree with a printed one: within half a unit of the last digit shown. */
export function expectPrinted(found: number | null | undefined, printed: string): void {
  const decimals = printed.split(".")[1]?.length ?? 0;
  const error = Math.abs((found ?? Number.NaN) - Number(printed));
  expect(error, `found ${found}, printed ${printed}`).toBeLessThanOrEqual(0.5 * 10 ** -decimals * (1 + 1e-9));
}
