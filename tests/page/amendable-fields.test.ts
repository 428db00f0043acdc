import { describe, expect, it } from "vitest";
import type { EntryKind } from "../../src/contract/ledger-entries.ts";
import { pointerSteps, valueAt } from "../../src/core/evidence/json-pointer.ts";
import { amendableFields, textOfField, valueOfField } from "../../web/custody/amendable-fields.ts";

const bodies: readonly (readonly [EntryKind, object])[] = [
  [
    "specimen-received",
    { specimen: "A-S0001", details: { label: "A", ratedAmps: 20, poles: 1, volts: 120, condition: "dusty" } },
  ],
  ["shot-opened", { shot: "A-T0001", state: { kind: "as-found" } }],
  ["shot-opened", { shot: "A-T0001", state: { kind: "exercised", operations: 3 } }],
  ["handle-moved", { specimen: "A-S0001", operations: 2, note: "" }],
  [
    "job-opened",
    { job: "J", site: "S", on: "2025-01-02", clientReference: null, circumstances: "", panels: ["a", "b"] },
  ],
  [
    "custody-moved",
    {
      about: { kind: "job", id: "J" },
      from: "a",
      observedUntil: null,
      seals: [{ number: "1", condition: "intact" }],
    },
  ],
  ["calibration-recorded", { k: 2, expandedPercent: null, expandedSeconds: 0.01 }],
];

describe("fields that can be corrected", () => {
  it.each(bodies)("of %s lead to what stands there, and come back unchanged from the form", (kind, now) => {
    const fields = amendableFields({ kind, now });
    expect(fields.length).toBeGreaterThan(0);
    for (const field of fields) {
      const found = valueAt(now, pointerSteps(field.path));
      expect(found.there ? found.value : undefined).toEqual(field.value);
      if (field.value !== undefined) expect(valueOfField(field, textOfField(field))).toEqual(field.value);
    }
  });

  it("hold numbers as numbers, also where nothing was known", () => {
    const [k, percent] = amendableFields({
      kind: "calibration-recorded",
      now: { k: 2, expandedPercent: null },
    });
    expect(k !== undefined && valueOfField(k, "1,96")).toBe(1.96);
    expect(percent !== undefined && valueOfField(percent, "0.8")).toBe(0.8);
    expect(percent !== undefined && valueOfField(percent, "")).toBe(null);
  });

  it("are none of what was measured, reviewed or signed", () => {
    for (const kind of ["shot-closed", "station-opened", "record-reviewed", "entry-amended"] as const)
      expect(amendableFields({ kind, now: { note: "x" } })).toEqual([]);
  });
});
