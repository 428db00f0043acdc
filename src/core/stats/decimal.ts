/** An exact decimal number: digits / 10^scale, in lowest terms of ten. */
export interface Decimal {
  digits: bigint;
  scale: number;
}

/**
 * The decimal that a person meant by a double: the shortest one that reads back as the same double, so 0.9 is nine tenths.
 *
 * @throws RangeError if x is not finite
 */
export function decimalOf(x: number): Decimal {
  if (!Number.isFinite(x)) throw new RangeError(`a decimal must be finite but is ${x}`);
  const [mantissa = "0", exponent = "0"] = String(x).split("e");
  const [whole = "0", fraction = ""] = mantissa.split(".");
  const scale = fraction.length - Number(exponent);
  const digits = BigInt(whole + fraction);
  return scale >= 0 ? { digits, scale } : { digits: digits * 10n ** BigInt(-scale), scale: 0 };
}

/** The nearest double. */
export function decimalToNumber({ digits, scale }: Decimal): number {
  return Number(`${digits}e-${scale}`);
}

/** 1 - x, exactly. */
export function decimalComplement({ digits, scale }: Decimal): Decimal {
  return { digits: 10n ** BigInt(scale) - digits, scale };
}

/** 1 - x as the decimals that x and the result stand for: the complement of 0.9 is 0.1, not 0.09999999999999998. */
export function complement(x: number): number {
  return decimalToNumber(decimalComplement(decimalOf(x)));
}
