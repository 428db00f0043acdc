import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { RigIdentity } from "../../src/contract/ledger-entries.ts";
import type { Specimen } from "../../src/core/specimen/specimen.ts";
import { BenchDesk, type FinishedShot } from "../../src/lab/bench-desk.ts";
import type { Lab } from "../../src/lab/lab.ts";
import { openLab } from "../../src/lab/open-lab.ts";
import type { PointRequest } from "../../src/lab/prepare-shot.ts";
import { findOrReceiveSpecimen } from "../../src/lab/receive-specimen.ts";

/** An invented specimen whose codes a band can name. */
export const specimen: Specimen = {
  label: "A-1",
  ratedAmps: 20,
  poles: 1,
  volts: 120,
  makeCode: "MK",
  typeCode: "T1",
};

export const rig: RigIdentity = {
  protocol: 1,
  model: "invented",
  serial: "R-1",
  firmware: "1",
  lowestAmps: 1,
  highestAmps: 1000,
  timerSeconds: 0.001,
  tickHz: 1e6,
  lineHz: 60,
  rawHz: 10000,
  longestSeconds: 10000,
  emulated: false,
};

/** A lab in a folder of its own, whose calendar stands at 15 June 2026. */
export function measuringLab(name = "Invented lab"): {
  lab: Lab;
  folder: string;
  file: (name: string, text: string) => string;
  remove: () => void;
} {
  const folder = mkdtempSync(join(tmpdir(), "asfound-measuring-"));
  const lab: Lab = {
    ...openLab(join(folder, "data"), { lab: name, demo: true }),
    now: () => new Date("2026-06-15T12:00:00.000Z"),
  };
  return {
    lab,
    folder,
    file: (name, text) => {
      writeFileSync(join(folder, name), text);
      return join(folder, name);
    },
    remove: () => {
      lab.store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Makes one shot on the emulated rig with a fast clock. */
export async function shoot(
  lab: Lab,
  request: PointRequest,
  breaker = "sound",
  details: Specimen = specimen,
): Promise<FinishedShot> {
  const address = `emulated?breaker=${breaker}&speed=5000&seed=3`;
  const desk = new BenchDesk(lab, address);
  try {
    await desk.connect(address);
    return await desk.run({ ...request, specimen: findOrReceiveSpecimen(lab, details) });
  } finally {
    await desk.close();
  }
}

export const at200: PointRequest = { limitSet: "ul-489-calibration", multiple: 2 };
