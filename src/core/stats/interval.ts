/** Two ends between which a quantity is said to lie. */
export interface Interval {
  lower: number;
  upper: number;
}
