import { InvalidArgumentError } from "commander";

/** Reader of a numeric option: finite and within [min, max]. */
export function numberOption(min: number, max: number, unit: string): (text: string) => number {
  return (text) => {
    const value = text.trim() === "" ? Number.NaN : Number(text);
    if (!Number.isFinite(value) || value < min || value > max) {
      throw new InvalidArgumentError(
        `Found "${text}"; accepted is a number from ${min} to ${max}${unit && ` ${unit}`}.`,
      );
    }
    return value;
  };
}

/** Reader of a whole-number option within [min, max]. */
export function integerOption(min: number, max: number): (text: string) => number {
  const read = numberOption(min, max, "");
  return (text) => {
    const value = read(text);
    if (!Number.isInteger(value))
      throw new InvalidArgumentError(`Found "${text}"; accepted is a whole number.`);
    return value;
  };
}

/** Reader of an option that is one of a few words. */
export function choiceOption<T extends string>(choices: readonly T[]): (text: string) => T {
  return (text) => {
    const found = choices.find((choice) => choice === text);
    if (found === undefined)
      throw new InvalidArgumentError(`Found "${text}"; accepted: ${choices.join(", ")}.`);
    return found;
  };
}

export const loadings = ["pole-1", "pole-2", "pole-3", "all"] as const;
