import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { findTestPoint } from "../../src/core/limits/applicable-rows.ts";
import type { Loading, Specimen } from "../../src/core/specimen/specimen.ts";
import type { Lab } from "../../src/lab/lab.ts";
import { openLab } from "../../src/lab/open-lab.ts";
import { receiveSpecimen } from "../../src/lab/receive-specimen.ts";
import { rig } from "./measuring-lab.ts";

/** Start of the invented day. */
export const morning = Date.UTC(2026, 5, 15, 8);

/** A time so many seconds after the start of the day. */
export const timeAt = (seconds: number): string => new Date(morning + seconds * 1000).toISOString();

/** A shot to be written as made on a real rig: when it began, at what, and how it ended (`seconds` null: held). */
export interface RecordedShot {
  at: number;
  multiple: number;
  loading?: Loading;
  seconds: number | null;
  heldSeconds?: number;
  limitSet?: string;
  link?: string;
  emulated?: boolean;
}

/** A lab whose shots are written into the ledger as a real rig would have left them, on a clock that the test sets. */
export class RecordedLab {
  readonly lab: Lab;
  readonly folder = mkdtempSync(join(tmpdir(), "asfound-recorded-"));
  #seconds = 0;

  constructor() {
    this.lab = this.#open();
  }

  #open(): Lab {
    return {
      ...openLab(join(this.folder, "data"), { lab: "Invented lab", demo: true }),
      now: () => new Date(morning + this.#seconds * 1000),
    };
  }

  /** Closes the store and opens it anew, as after a restart. */
  reopened(): Lab {
    this.lab.store.close();
    Object.assign(this.lab, this.#open());
    return this.lab;
  }

  setClock(seconds: number): void {
    this.#seconds = seconds;
  }

  receive(details: Partial<Specimen> = {}): string {
    return receiveSpecimen(this.lab, { label: "A-1", ratedAmps: 20, poles: 1, volts: 120, ...details });
  }

  shot(specimen: string, made: RecordedShot): string {
    const { store, limits } = this.lab;
    const known = store.records.specimen(specimen);
    if (known === null) throw new Error(specimen);
    const limitSet = made.limitSet ?? "ul-489-calibration";
    const found = findTestPoint(limits.get(limitSet), known.details, made.multiple, made.loading);
    if (!found.ok) throw new Error(found.detail);
    const { row, loading, targetAmps } = found.point;
    const { shot, number } = store.records.nextShot();
    store.ledger.append(
      "shot-opened",
      {
        ...{ shot, number, specimen, state: known.state, limitSet, limitSetHash: limits.hashOf(limitSet) },
        ...{ limitIncludesGuardBand: false, row, loading, ratedAmps: known.details.ratedAmps, targetAmps },
        ...{ endAtSeconds: 130, rule: { kind: "simple" as const }, confirmed: false },
        basis: {
          ...{ currentPercent: 1, currentK: 2, timerSeconds: 0.001, regulationPercent: 2, pickup: 1.15 },
          from: "invented",
        },
        rig: { ...rig, emulated: made.emulated ?? false },
        link: made.link ?? "serial:/dev/invented",
      },
      { actor: "tester", at: timeAt(made.at) },
    );
    const held = made.heldSeconds ?? made.seconds ?? 130;
    const must = row.requirement.kind !== "hold-for";
    const { seconds } = made;
    store.ledger.append(
      "shot-closed",
      {
        ...{ shot, hostEnd: seconds === null ? "limit" : "rig-ended", ...store.blocks.facts(shot) },
        ...{ rigResult: null, ambientCelsius: 23, lineHealth: null },
        reading: {
          outcome: seconds === null ? "held" : "tripped",
          seconds,
          interval: seconds === null ? null : { lower: seconds - 0.001, upper: seconds },
          heldSeconds: held,
          ...{ effectiveAmps: targetAmps, lowestAmps: targetAmps, highestAmps: targetAmps },
          ...{ multiple: made.multiple, targetAmps, flags: [], samples: 0 },
          uncertainty:
            seconds === null
              ? null
              : {
                  ...{ standard: 0.5, expanded: 1, k: 2, effectiveDegreesOfFreedom: null },
                  ...{ budget: [], model: "" },
                },
        },
        verdict: {
          result: (seconds === null) === must ? "fail" : "pass",
          finding: seconds === null ? (must ? "no trip" : "held as required") : "tripped in time",
          ...{ statement: null, probability: null, limitSeconds: 120, limitSet, row: row.id },
          ...{ rule: { kind: "simple" as const }, confirmed: false, reasons: [] },
        },
      },
      { actor: "tester", at: timeAt(made.at + held) },
    );
    return shot;
  }

  remove(): void {
    this.lab.store.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
