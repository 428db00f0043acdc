import type { Specimen } from "../core/specimen/specimen.ts";

/** Three invented jobs; no such places exist. */
const mill = {
  job: "Mill Lane 3 (invented)",
  receivedOn: "2025-03-09",
  selection: "all of a panel",
} as const;
const orchard = {
  job: "Orchard Court (invented)",
  receivedOn: "2025-04-21",
  selection: "at random",
} as const;
const quay = {
  job: "Quay Workshop (invented)",
  receivedOn: "2025-05-13",
  selection: "on suspicion",
} as const;

/** What is written down of each invented job; `by` is who enters it. */
export const demoJobs = [
  {
    ...{
      job: mill.job,
      site: "Mill Lane 3, a dwelling of 1974 (invented)",
      on: "2025-03-07",
      panels: ["cellar panel"],
    },
    circumstances: "Panel replaced in a renovation; all breakers of the panel were kept.",
    removedBy: "an electrician of the invented firm",
  },
  {
    ...{
      job: orchard.job,
      site: "Orchard Court, flats of 1988 (invented)",
      on: "2025-04-18",
      panels: ["riser panel B"],
    },
    circumstances: "Eight of forty breakers picked by lot for a survey.",
    removedBy: "the caretaker's electrician (invented)",
  },
  {
    ...{
      job: quay.job,
      site: "Quay Workshop, a boat yard (invented)",
      on: "2025-05-11",
      panels: ["machine panel"],
    },
    circumstances:
      "A motor overheated and its breaker did not trip; the panel's breakers were pulled on suspicion.",
    removedBy: "the yard's own electrician (invented)",
  },
];

type Row = [
  label: string,
  ratedAmps: number,
  poles: 1 | 2 | 3,
  year: number,
  breaker: string,
  condition: string,
];

const rows: readonly (readonly [typeof mill | typeof orchard | typeof quay, string, readonly Row[]])[] = [
  [
    mill,
    "cellar panel",
    [
      ["ML-01", 15, 1, 1974, "sound", "dusty, handle crisp"],
      ["ML-02", 15, 1, 1974, "never-trips", "dusty, handle crisp"],
      ["ML-03", 20, 1, 1974, "sound", "dusty"],
      ["ML-04", 20, 1, 1974, "jams-until-exercised", "dusty, handle stiff"],
      ["ML-05", 20, 1, 1974, "sound", "dusty"],
      ["ML-06", 30, 2, 1974, "sound", "dusty, one lug loose as received"],
      ["ML-07", 40, 2, 1974, "one-pole-dead", "dusty, discoloured at pole 2"],
      ["ML-08", 50, 2, 1974, "sound-slow", "dusty"],
    ],
  ],
  [
    orchard,
    "riser panel B",
    [
      ["OC-01", 15, 1, 1988, "sound", "clean"],
      ["OC-02", 15, 1, 1988, "sound", "clean"],
      ["OC-03", 20, 1, 1988, "trips-late", "clean, handle soft"],
      ["OC-04", 20, 1, 1988, "sound", "clean"],
      ["OC-05", 20, 1, 1991, "sound", "clean"],
      ["OC-06", 30, 2, 1991, "sound", "clean"],
      ["OC-07", 60, 2, 1991, "sound", "clean"],
      ["OC-08", 100, 2, 1991, "sound", "clean, paint on cover"],
    ],
  ],
  [
    quay,
    "machine panel",
    [
      ["QW-01", 15, 1, 1969, "trips-early", "salt bloom on terminals"],
      ["QW-02", 20, 1, 1969, "never-trips", "corroded terminals"],
      ["QW-03", 20, 1, 1969, "sound", "salt bloom on terminals"],
      ["QW-04", 30, 1, 1969, "jams-until-exercised", "handle stiff"],
      ["QW-05", 30, 3, 1969, "sound", "salt bloom on terminals"],
      ["QW-06", 60, 3, 1972, "one-pole-late", "corroded terminals"],
      ["QW-07", 100, 3, 1972, "sound", "clean inside cover"],
      ["QW-08", 70, 2, 1972, "magnetic-only", "corroded terminals"],
    ],
  ],
];

/**
 * The demo lab's specimens: two dozen breakers of three invented jobs, each played by a named breaker of the emulated rig.
 * All of it is invented; the labels, places, years and conditions describe nothing that exists.
 */
export const demoSpecimens: readonly Specimen[] = rows.flatMap(([job, panel, list]) =>
  list.map(([label, ratedAmps, poles, madeYear, emulatedBreaker, condition], position) => ({
    label,
    ratedAmps,
    poles,
    volts: poles === 1 ? 120 : 240,
    tripType: "thermal-magnetic" as const,
    makeCode: job === orchard ? "maker code B" : "maker code A",
    madeYear,
    ...job,
    panel,
    circuit: String(position + 1),
    condition,
    handleAsReceived: "off" as const,
    demo: true,
    emulatedBreaker,
    notes: "Invented for the demo lab.",
  })),
);
