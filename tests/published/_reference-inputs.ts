import { readFileSync } from "node:fs";
import { join } from "node:path";

/** Inputs of one record of tests/fixtures/reference, to which a published result belongs. */
export function referenceInputs(family: string, id: string): Record<string, unknown> {
  const path = join(import.meta.dirname, `../fixtures/reference/${family}.json`);
  const { records } = JSON.parse(readFileSync(path, "utf8")) as {
    records: { id: string; inputs: Record<string, unknown> }[];
  };
  const found = records.find((record) => record.id === id);
  if (found === undefined) throw new Error(`no record ${id} in ${path}`);
  return found.inputs;
}

/** Lists of failures and numbers tested as studies. */
export function referenceStudies(family: string, id: string): { k: number; n: number }[] {
  const inputs = referenceInputs(family, id);
  const n = inputs.n as number[];
  return (inputs.k as number[]).map((k, index) => ({ k, n: n[index] ?? 0 }));
}
