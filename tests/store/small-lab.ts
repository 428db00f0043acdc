import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { EntryBodies } from "../../src/contract/ledger-entries.ts";
import type { OperationState } from "../../src/core/specimen/specimen.ts";
import { openStore, type Store } from "../../src/store/open-store.ts";

/** An empty data directory of its own for one test. */
export const newFolder = (): string => mkdtempSync(join(tmpdir(), "asfound-store-"));

export const origin = { actor: "tester" };

/** A clock that moves on by one second whenever it is read. */
export function steppingClock(): () => Date {
  let ms = Date.UTC(2025, 0, 31, 8);
  return () => {
    ms += 1000;
    return new Date(ms);
  };
}

/** A store whose station is opened. */
export function openLab(folder = newFolder(), demo = false): Store {
  const store = openStore(folder, { now: steppingClock() });
  if (store.ledger.head().sequence === 0) store.openStation({ lab: "Invented lab", demo }, origin);
  return store;
}

/** Receives an invented specimen and returns its identifier. */
export function receive(store: Store, label: string, more: { job?: string } = {}): string {
  const specimen = store.records.nextSpecimenId();
  store.ledger.append(
    "specimen-received",
    { specimen, details: { label, ratedAmps: 20, poles: 1, volts: 120, ...more } },
    origin,
  );
  return specimen;
}

/** Opens a shot at 135 % and returns its identifier. */
export function openShot(store: Store, specimen: string, state?: OperationState): string {
  const { shot, number } = store.records.nextShot();
  store.ledger.append("shot-opened", openedBody(store, shot, number, specimen, state), origin);
  return shot;
}

export function openedBody(
  store: Store,
  shot: string,
  number: number,
  specimen: string,
  state: OperationState = store.records.specimen(specimen)?.state ?? { kind: "as-found" },
): EntryBodies["shot-opened"] {
  return {
    shot,
    number,
    specimen,
    state,
    limitSet: "invented",
    limitSetHash: "0".repeat(64),
    limitIncludesGuardBand: false,
    row: {
      id: "135",
      test: "135 %",
      multiple: 1.35,
      requirement: { kind: "trip-within", maxSeconds: 3600 },
      ratedOverAmps: 0,
      ratedToAmps: 50,
      loading: "each pole alone",
      start: "cold",
      ambient: null,
      source: {
        document: "invented for tests",
        edition: null,
        clause: null,
        standing: "from memory",
        doubtful: true,
        note: "",
      },
    },
    loading: "pole-1",
    ratedAmps: 20,
    targetAmps: 27,
    endAtSeconds: 3960,
    rule: { kind: "simple" },
    confirmed: false,
    basis: {
      currentPercent: 1,
      currentK: 2,
      timerSeconds: 0.001,
      regulationPercent: 2,
      pickup: 1.1,
      from: "invented",
    },
    rig: {
      protocol: 1,
      model: "invented",
      serial: "1",
      firmware: "1",
      lowestAmps: 1,
      highestAmps: 1000,
      timerSeconds: 0.001,
      tickHz: 1000,
      lineHz: 60,
      rawHz: 10000,
      longestSeconds: 7200,
      emulated: true,
    },
    link: "none",
  };
}

/** Closes a shot as tripped after `seconds`, or as held where that is null. */
export function closeShot(store: Store, shot: string, seconds: number | null = 28.1): void {
  store.ledger.append("shot-closed", closedBody(store, shot, seconds), origin);
}

export function closedBody(store: Store, shot: string, seconds: number | null): EntryBodies["shot-closed"] {
  const facts = store.blocks.facts(shot);
  return {
    shot,
    hostEnd: seconds === null ? "limit" : "rig-ended",
    ...facts,
    rigResult: null,
    ambientCelsius: 23.5,
    lineHealth: { damaged: 0, askedAgain: 0, missing: 0 },
    reading: {
      outcome: seconds === null ? "held" : "tripped",
      seconds,
      interval: seconds === null ? null : { lower: seconds - 0.01, upper: seconds },
      heldSeconds: seconds ?? 3960,
      effectiveAmps: 27.02,
      lowestAmps: 26.9,
      highestAmps: 27.1,
      multiple: 1.351,
      targetAmps: 27,
      uncertainty: null,
      flags: [],
      samples: facts.samples,
    },
    verdict: {
      result: seconds === null ? "fail" : "pass",
      finding: seconds === null ? "no trip" : "tripped in time",
      statement: null,
      probability: null,
      limitSeconds: 3600,
      limitSet: "invented",
      row: "135",
      rule: { kind: "simple" },
      confirmed: false,
      reasons: ["Invented for a test."],
    },
  };
}

/** Three specimens, four shots with samples, events and windows, one handle movement: every kind of entry and block. */
export function fillLab(store: Store): { specimens: string[]; shots: string[] } {
  const specimens = ["A-1", "A-2", "A-3"].map((label, i) =>
    receive(store, label, i === 2 ? {} : { job: "J1" }),
  );
  const [first = "", second = "", third = ""] = specimens;
  const shots: string[] = [];
  const shoot = (specimen: string, seconds: number | null) => {
    const shot = openShot(store, specimen);
    store.blocks.append(shot, [
      { kind: "event", event: { atUs: 1000, kind: "onset" } },
      { kind: "samples", run: { firstEndUs: 17667, stepUs: 16667, milliamps: wave(60, shots.length) } },
      {
        kind: "raw",
        window: { window: "onset", firstAtUs: 500, stepNs: 100000, milliamps: wave(40, 3 + shots.length) },
      },
      { kind: "samples", run: { firstEndUs: 17667 + 60 * 16667, stepUs: 16667, milliamps: wave(30, 9) } },
      { kind: "event", event: { atUs: 1517667, kind: "opening", pole: 1 } },
      { kind: "event", event: { atUs: 1517700, kind: "off", why: "opened" } },
    ]);
    closeShot(store, shot, seconds);
    shots.push(shot);
  };
  shoot(first, 28.1);
  shoot(second, null);
  store.ledger.append("handle-moved", { specimen: third, operations: 2, note: "found on" }, origin);
  shoot(third, 31.25);
  shoot(first, 30.5);
  return { specimens, shots };
}

/** Milliamps near 27 A that look like a regulated source; the same for the same seed. */
export function wave(count: number, seed: number): Int32Array {
  return Int32Array.from({ length: count }, (_, i) =>
    Math.round(27000 + 80 * Math.sin(i * 1.7 + seed) + 40 * Math.sin(i * i + seed)),
  );
}
