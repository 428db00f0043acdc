import type { Finding, Verdict } from "../../src/core/limits/verdict.ts";
import type { Specimen } from "../../src/core/specimen/specimen.ts";
import type { Store } from "../../src/store/open-store.ts";
import { closedBody, openedBody, openLab, origin } from "../store/small-lab.ts";

type Ending = "pass" | "late" | "never" | "undetermined" | "excluded" | "nuisance" | "held";

const endings: Readonly<
  Record<Ending, { result: Verdict["result"]; finding: Finding; seconds: number | null }>
> = {
  pass: { result: "pass", finding: "tripped in time", seconds: 40 },
  late: { result: "fail", finding: "late trip", seconds: 130 },
  never: { result: "fail", finding: "no trip", seconds: null },
  undetermined: { result: "undetermined", finding: "not decided", seconds: null },
  excluded: { result: "excluded", finding: "not decided", seconds: null },
  nuisance: { result: "fail", finding: "nuisance trip", seconds: 900 },
  held: { result: "pass", finding: "held as required", seconds: null },
};

/** Receives an invented specimen. */
export function receiveSpecimen(store: Store, label: string, details: Partial<Specimen> = {}): string {
  const specimen = store.records.nextSpecimenId();
  store.ledger.append(
    "specimen-received",
    { specimen, details: { label, ratedAmps: 20, poles: 1, volts: 120, ...details } },
    origin,
  );
  return specimen;
}

/** Makes one shot that ends so, at a multiple of rating, and closes it. */
export function shootAt(
  store: Store,
  specimen: string,
  multiple: number,
  ending: Ending,
  { loading = "pole-1" }: { loading?: "pole-1" | "pole-2" | "all" } = {},
): string {
  const { shot, number } = store.records.nextShot();
  const holds = ending === "nuisance" || ending === "held";
  const opened = openedBody(store, shot, number, specimen);
  store.ledger.append(
    "shot-opened",
    {
      ...opened,
      loading,
      row: {
        ...opened.row,
        id: `${holds ? "hold" : "trip"}-${multiple}`,
        multiple,
        requirement: holds ? { kind: "hold-for", seconds: 3600 } : { kind: "trip-within", maxSeconds: 120 },
      },
    },
    origin,
  );
  const { result, finding, seconds } = endings[ending];
  const closed = closedBody(store, shot, seconds);
  const heldSeconds = seconds ?? (ending === "undetermined" ? 50 : 126);
  store.ledger.append(
    "shot-closed",
    {
      ...closed,
      reading: {
        ...closed.reading,
        outcome: seconds !== null ? "tripped" : ending === "undetermined" ? "interrupted" : "held",
        heldSeconds,
      },
      verdict: { ...closed.verdict, result, finding, limitSeconds: holds ? 3600 : 120 },
    },
    origin,
  );
  return shot;
}

/** Receives a specimen and makes its shots at 200 %, in order. */
export function specimenWith(
  store: Store,
  label: string,
  shots: readonly Ending[],
  details: Partial<Specimen> = {},
): string {
  const specimen = receiveSpecimen(store, label, details);
  for (const ending of shots) shootAt(store, specimen, 2, ending);
  return specimen;
}

export { openLab };
