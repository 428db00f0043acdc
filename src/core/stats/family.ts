/**
 * One statistical method with named inputs and outputs, for computing from plain data.
 *
 * `compute` gives infinite results as Infinity and what cannot be estimated as `null`, never NaN.
 */
export interface Family {
  name: string;
  /** What it computes, in words */
  about: string;
  /** Each input by its key: what it is and what is accepted */
  inputs: Readonly<Record<string, string>>;
  /** Each output by its key: what it is */
  outputs: Readonly<Record<string, string>>;
  /**
   * @throws RangeError naming the input, the value found and what is accepted
   */
  compute(input: Readonly<Record<string, unknown>>): Record<string, unknown>;
}
