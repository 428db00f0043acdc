import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { canonicalJson } from "../../src/core/evidence/canonical-json.ts";
import { findTestPoint } from "../../src/core/limits/applicable-rows.ts";
import { setPolicy } from "../../src/lab/policy.ts";
import { rederive } from "../../src/lab/rederive.ts";
import { coldnessBeforeShot, coolingModelOf, thermalHistory } from "../../src/lab/thermal-history.ts";
import type { SpecimenRecord } from "../../src/store/records.ts";
import { at200, measuringLab, shoot } from "./measuring-lab.ts";
import { morning, RecordedLab } from "./recorded-lab.ts";

let place: RecordedLab;
beforeEach(() => {
  place = new RecordedLab();
});
afterEach(() => place.remove());

const known = (specimen: string): SpecimenRecord => {
  const found = place.lab.store.records.specimen(specimen);
  if (found === null) throw new Error(specimen);
  return found;
};
const point = (specimen: string, multiple = 2, limitSet = "ul-489-calibration") => {
  const found = findTestPoint(place.lab.limits.get(limitSet), known(specimen).details, multiple);
  if (!found.ok) throw new Error(found.detail);
  return found.point;
};

describe("thermalHistory", () => {
  it("is every shot at its multiple and every rest between, by the ledger's times", () => {
    const specimen = place.receive();
    place.shot(specimen, { at: 0, multiple: 2, seconds: 50 });
    place.shot(specimen, { at: 1050, multiple: 1.35, seconds: null, heldSeconds: 3600 });
    const at = new Date(morning + 5000 * 1000);
    expect(thermalHistory(place.lab, specimen, at, "wall")).toEqual([
      { multiple: 2, seconds: 50, tripped: true },
      { multiple: 0, seconds: 1000, tripped: false },
      { multiple: 1.35, seconds: 3600, tripped: false },
      { multiple: 0, seconds: 350, tripped: false },
    ]);
  });
});

describe("coldnessBeforeShot", () => {
  it("finds a specimen cold that had no current, and warm after a shot", () => {
    setPolicy(place.lab, { notCold: "flag" });
    const specimen = place.receive();
    expect(coldnessBeforeShot(place.lab, known(specimen), point(specimen), "wall").verdict).toBe("cold");
    place.shot(specimen, { at: 0, multiple: 2, seconds: 50 });
    place.setClock(100);
    const warm = coldnessBeforeShot(place.lab, known(specimen), point(specimen), "wall");
    expect(warm.verdict).toBe("not cold");
    expect(warm.preload).toBeGreaterThan(0.9);
  });

  it("refuses before current where the policy blocks, with the time left; not where the test begins warm", () => {
    setPolicy(place.lab, { notCold: "block", coolingTauSeconds: 900 });
    const specimen = place.receive({ ratedAmps: 16, volts: 230, typeLetter: "C" });
    place.shot(specimen, {
      at: 0,
      multiple: 1.13,
      seconds: null,
      heldSeconds: 3600,
      limitSet: "iec-60898-1",
    });
    place.setClock(3601);
    const cold = point(specimen, 2.55, "iec-60898-1");
    expect(() => coldnessBeforeShot(place.lab, known(specimen), cold, "wall")).toThrow(
      /A-1 is not cold: \d+ min \d+ s more, until 2026-06-15T/,
    );
    const after = point(specimen, 1.45, "iec-60898-1");
    expect(coldnessBeforeShot(place.lab, known(specimen), after, "wall").verdict).toBe("not cold");
    expect(coldnessBeforeShot(place.lab, known(specimen), cold, "rested by the rig").verdict).toBe("cold");
  });
});

describe("coolingModelOf", () => {
  it("is slower for large ratings, and never cools faster than it heats", () => {
    const details = { label: "A", ratedAmps: 20, poles: 1, volts: 120 } as const;
    const small = coolingModelOf(place.lab, details, { coolingTauSeconds: 60 });
    const large = coolingModelOf(place.lab, { ...details, ratedAmps: 400 }, { coolingTauSeconds: 60 });
    expect(large.heatingTauSeconds).toBeGreaterThan(small.heatingTauSeconds);
    expect(small.coolingTauSeconds).toBeGreaterThanOrEqual(small.heatingTauSeconds);
  });
});

describe("a shot", () => {
  it("stores coldness before its current, and is derived again to the same bytes with and without it", async () => {
    const { lab, remove } = measuringLab();
    try {
      setPolicy(lab, { pastDueCalibration: "flag" });
      const first = await shoot(lab, at200);
      const second = await shoot(lab, at200);
      expect(first.opened.coldness?.words).toContain("No current");
      expect(second.opened.coldness).toMatchObject({ verdict: "cold" });
      expect(second.opened.coldness?.words).toContain("emulated rig lets it rest");
      expect(second.closed.reading.flags).not.toContain("not-cold");
      expect(rederive(lab)).toEqual({ shots: 2, same: 2, different: [] });
      const { deriveShot } = await import("../../src/lab/derive-shot.ts");
      const signal = lab.store.blocks.readSignal(second.opened.shot);
      const { coldness, ...older } = second.opened;
      const again = deriveShot(older, second.closed, signal);
      expect(canonicalJson(again.reading)).toBe(canonicalJson(second.closed.reading));
      const warm = { ...second.opened, coldness: { verdict: "not cold" as const, preload: 0.9, words: "" } };
      expect(coldness?.verdict).toBe("cold");
      expect(deriveShot(warm, second.closed, signal).reading.flags).toContain("not-cold");
    } finally {
      remove();
    }
  });
});
