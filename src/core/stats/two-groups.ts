import { checkCounts } from "./check-arguments.ts";

/** x1 of n1 in one group, x2 of n2 in another. */
export interface TwoGroups {
  x1: number;
  n1: number;
  x2: number;
  n2: number;
}

/**
 * Refuse what is not two pairs of counts.
 *
 * @param where put before the message, such as "stratum 3, "
 * @throws RangeError naming the group, the value found and what is accepted
 */
export function checkTwoGroups({ x1, n1, x2, n2 }: TwoGroups, where = ""): void {
  checkCounts(x1, n1, `${where}group 1: `);
  checkCounts(x2, n2, `${where}group 2: `);
}
