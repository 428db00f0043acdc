import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { addCalibration, calibrationViews } from "../../src/lab/calibrations.ts";
import { measurementBasis } from "../../src/lab/measurement-basis.ts";
import { defaultPolicy, policyOf, setPolicy } from "../../src/lab/policy.ts";
import { prepareShot } from "../../src/lab/prepare-shot.ts";
import { rederive } from "../../src/lab/rederive.ts";
import { at200, measuringLab, rig, shoot, specimen } from "./measuring-lab.ts";

let place: ReturnType<typeof measuringLab>;
beforeEach(() => {
  place = measuringLab();
});
afterEach(() => place.remove());

const current = {
  instrument: "invented rig",
  serial: "R-1",
  quantity: "current",
  certificate: "C-1",
  issuer: "Invented calibration lab",
  on: "2026-01-10",
  due: "2027-01-10",
  expandedPercent: 0.4,
  k: 2,
};
const add = (more: object = {}) =>
  addCalibration(place.lab, JSON.parse(JSON.stringify({ ...current, ...more })), "certificate.json");
const basis = (targetAmps = 40) => measurementBasis(place.lab, rig, targetAmps);

describe("what the uncertainty rests on", () => {
  it("is working values until the rig's own serial number has a record", () => {
    const working = basis();
    expect(working).toMatchObject({ currentPercent: 1, currentK: 2, timerSeconds: 0.001 });
    add({ serial: "another" });
    expect(basis()).toEqual(working);
  });

  it("is the certificate, named with issuer and dates, once there is one", () => {
    add({ k: 2.1 });
    add({ quantity: "time", certificate: "T-1", expandedPercent: null, expandedSeconds: 0.004 });
    expect(basis()).toMatchObject({ currentPercent: 0.4, currentK: 2.1, timerSeconds: 0.002 });
    for (const words of ["C-1", "T-1", "Invented calibration lab", "calibrated 2026-01-10", "due 2027-01-10"])
      expect(basis().from).toContain(words);
    expect(basis().pastDue).toBeUndefined();
  });

  it("is the latest certificate, whatever the order in which they were recorded", () => {
    add({ certificate: "new", on: "2026-03-01", expandedPercent: 0.2 });
    add({ certificate: "old", on: "2025-03-01", expandedPercent: 0.9 });
    expect(basis()).toMatchObject({ currentPercent: 0.2 });
    expect(calibrationViews(place.lab).map((one) => [one.record.certificate, one.state])).toEqual([
      ["old", "replaced"],
      ["new", "in force"],
    ]);
  });

  it("counts the largest deviation of the points, since readings are not corrected for it (JCGM 100:2008, F.2.4.5)", () => {
    const points = [
      { value: 10, unit: "A", deviation: 0.05, expanded: 0.04 },
      { value: 100, unit: "A", deviation: -0.3, expanded: 0.3 },
    ];
    // Deviations 0.5 % and 0.3 %; U of the points 0.4 % and 0.3 %, of the certificate 0.6 %.
    add({ points, expandedPercent: null });
    expect(basis().currentPercent).toBeCloseTo(0.9, 12);
    expect(basis(200).from).toContain("200 A lies outside the calibrated points, 10 A to 100 A");
    expect(basis(40).from).not.toContain("outside");
    add({ certificate: "C-2", on: "2026-02-01", points, expandedPercent: 0.6 });
    expect(basis().currentPercent).toBeCloseTo(1.1, 12);
  });
});

describe("a calibration past due", () => {
  const due = { due: "2026-06-14" };

  it("is in force on its last day and past due on the next", () => {
    add({ due: "2026-06-15" });
    expect(basis().pastDue).toBeUndefined();
    add({ certificate: "C-2", on: "2026-02-01", ...due });
    expect(basis()).toMatchObject({
      pastDue: true,
      from: expect.stringContaining("PAST DUE since 2026-06-14"),
    });
    expect(calibrationViews(place.lab)[0]?.state).toBe("past due");
  });

  it("blocks or flags, as the lab has decided", () => {
    add(due);
    expect(policyOf(place.lab).pastDueCalibration).toBe("block");
    expect(() => prepareShot(place.lab, specimen, at200, rig)).toThrow("calibration past due");
    setPolicy(place.lab, { pastDueCalibration: "flag" });
    expect(prepareShot(place.lab, specimen, at200, rig).basis.pastDue).toBe(true);
    expect(
      prepareShot(place.lab, specimen, at200, { ...rig, serial: "other" }).basis.pastDue,
    ).toBeUndefined();
  });

  it("flags the shot it was made with, and derives the same again after a new certificate", async () => {
    const emulated = { serial: "EMU-000003", ...due };
    add(emulated);
    await expect(shoot(place.lab, at200)).rejects.toThrow("past due");
    expect(place.lab.store.records.shots({})).toEqual([]);
    setPolicy(place.lab, { pastDueCalibration: "flag" });
    const { opened, closed } = await shoot(place.lab, at200);
    expect(opened.basis).toMatchObject({ currentPercent: 0.4, pastDue: true });
    expect(closed.reading.flags).toEqual(["calibration-past-due"]);
    expect(closed.verdict.result).toBe("pass");
    expect(closed.verdict.reasons.join(" ")).toContain("past due");
    add({ ...emulated, certificate: "C-2", on: "2026-06-01", due: "2027-06-01", expandedPercent: 0.1 });
    expect(rederive(place.lab)).toMatchObject({ shots: 1, same: 1 });
    const next = await shoot(place.lab, at200);
    expect(next.closed.reading.flags).toEqual([]);
    expect(next.closed.reading.uncertainty?.expanded).toBeLessThan(closed.reading.uncertainty?.expanded ?? 0);
  });
});

describe("a certificate that cannot be", () => {
  it.each([
    [{ serial: undefined }, "serial is missing"],
    [{ colour: 1 }, "colour is not known here"],
    [{ quantity: "volts" }, "quantity must be one of current, time, temperature"],
    [{ on: "2026-02-30" }, "on: there is no day 2026-02-30"],
    [{ on: "10.1.2026" }, "on must match pattern"],
    [{ on: "2026-06-16" }, "on: 2026-06-16 lies ahead"],
    [{ due: "2025-01-01" }, "due: 2025-01-01 lies before"],
    [{ k: 0 }, "k must be > 0, found 0"],
    [{ expandedPercent: null }, "expandedPercent: neither it nor a point is given"],
    [{ expandedSeconds: 1 }, "expandedSeconds: is for time"],
    [{ points: [{ value: 10, unit: "s", deviation: 0, expanded: 1 }] }, "points.0.unit: found s"],
    [{ points: [{ value: 0, unit: "A", deviation: 0, expanded: 1 }] }, "points.0.value: found 0"],
    [
      { points: [{ value: 1, unit: "A", deviation: 2, expanded: 1 }] },
      "points: U and deviation come to 200.4 %",
    ],
  ])("is refused: %j", (wrong, words) => {
    const before = place.lab.store.ledger.head().sequence;
    expect(() => add(wrong)).toThrow(`certificate.json: ${words}`);
    expect(place.lab.store.ledger.head().sequence).toBe(before);
  });

  it("is refused where it is recorded already", () => {
    add();
    expect(() => add()).toThrow("C-1 of Invented calibration lab is recorded already");
  });
});

describe("the policy", () => {
  it("is the default, then the newest decision, and changes only what was named", () => {
    expect(policyOf(place.lab)).toEqual(defaultPolicy);
    setPolicy(place.lab, { notCold: "block" });
    setPolicy(place.lab, { coolingTauSeconds: 900 });
    expect(policyOf(place.lab)).toEqual({ ...defaultPolicy, notCold: "block", coolingTauSeconds: 900 });
    const { sequence } = place.lab.store.ledger.head();
    setPolicy(place.lab, { notCold: "block" });
    expect(place.lab.store.ledger.head().sequence).toBe(sequence);
    expect(() => setPolicy(place.lab, { coolingTauSeconds: 0 })).toThrow(
      "coolingTauSeconds must be > 0, found 0",
    );
  });
});
