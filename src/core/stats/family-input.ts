/** Named inputs as they come from outside, nothing yet known of their values. */
export type FamilyInput = Readonly<Record<string, unknown>>;

/** A finite number. @throws RangeError naming the input */
export function readNumber(input: FamilyInput, key: string): number {
  return numberIn(present(input, key), key);
}

/** A whole number of `least` or more. @throws RangeError naming the input */
export function readWhole(input: FamilyInput, key: string, least = 0): number {
  return wholeIn(present(input, key), key, least);
}

/** A number above 0 and below 1. @throws RangeError naming the input */
export function readProbability(input: FamilyInput, key: string): number {
  const value = present(input, key);
  if (typeof value === "number" && value > 0 && value < 1) return value;
  return refuse(key, "a number above 0 and below 1", value);
}

/** k of n. @throws RangeError naming the input, also where k is above n */
export function readCounts(input: FamilyInput, countKey = "k", totalKey = "n"): { k: number; n: number } {
  const n = readWhole(input, totalKey, 1);
  const k = readWhole(input, countKey);
  if (k > n) refuse(countKey, `a whole number from 0 to ${totalKey} = ${n}`, k);
  return { k, n };
}

/** A list of finite numbers, not empty. @throws RangeError naming the input and the place in the list */
export function readNumbers(input: FamilyInput, key: string): number[] {
  return listIn(present(input, key), key).map((value, index) => numberIn(value, `${key}[${index}]`));
}

/** A list of whole numbers of `least` or more, not empty. @throws RangeError naming the input and the place in the list */
export function readWholes(input: FamilyInput, key: string, least = 0): number[] {
  return listIn(present(input, key), key).map((value, index) => wholeIn(value, `${key}[${index}]`, least));
}

/** Lists of counts k of n, pair by pair. @throws RangeError naming the input and the place in the list */
export function readCountLists(
  input: FamilyInput,
  countKey: string,
  totalKey: string,
): { k: number; n: number }[] {
  const totals = readWholes(input, totalKey, 1);
  const counts = readWholes(input, countKey);
  sameLength(countKey, counts, totalKey, totals);
  return counts.map((k, index) => {
    const n = totals[index] ?? 0;
    if (k > n) refuse(`${countKey}[${index}]`, `a whole number from 0 to ${totalKey}[${index}] = ${n}`, k);
    return { k, n };
  });
}

/** A list of lists of finite numbers, none empty. @throws RangeError naming the input and the place in the lists */
export function readNumberLists(input: FamilyInput, key: string): number[][] {
  return listIn(present(input, key), key).map((list, index) => {
    const name = `${key}[${index}]`;
    return listIn(list, name).map((value, place) => numberIn(value, `${name}[${place}]`));
  });
}

/** A list of objects, not empty. @throws RangeError naming the input and the place in the list */
export function readObjects(input: FamilyInput, key: string): FamilyInput[] {
  return listIn(present(input, key), key).map((value, index) => {
    if (typeof value === "object" && value !== null && !Array.isArray(value)) return { ...value };
    return refuse(`${key}[${index}]`, "an object", value);
  });
}

/** Refuse lists that do not go pair by pair. @throws RangeError naming both */
export function sameLength(
  firstKey: string,
  first: readonly unknown[],
  secondKey: string,
  second: readonly unknown[],
): void {
  if (first.length === second.length) return;
  throw new RangeError(
    `"${firstKey}" must have as many values as "${secondKey}" (${second.length}) but has ${first.length}`,
  );
}

function present(input: FamilyInput, key: string): unknown {
  if (Object.hasOwn(input, key)) return input[key];
  const found = Object.keys(input);
  throw new RangeError(`"${key}" is missing; found ${found.length === 0 ? "no inputs" : found.join(", ")}`);
}

function numberIn(value: unknown, name: string): number {
  if (typeof value === "number" && Number.isFinite(value)) return value;
  return refuse(name, "a finite number", value);
}

function wholeIn(value: unknown, name: string, least: number): number {
  if (typeof value === "number" && Number.isSafeInteger(value) && value >= least) return value;
  return refuse(name, `a whole number of ${least} or more`, value);
}

function listIn(value: unknown, name: string): unknown[] {
  if (Array.isArray(value) && value.length > 0) return value;
  return refuse(name, "a list of one or more values", value);
}

function refuse(name: string, accepted: string, found: unknown): never {
  const shown = typeof found === "number" ? String(found) : JSON.stringify(found);
  throw new RangeError(`"${name}" must be ${accepted} but is ${shown}`);
}
