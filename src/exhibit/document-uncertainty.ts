import { formatSeconds } from "../core/units/format-seconds.ts";
import { roundSignificant } from "../core/units/round.ts";
import { type ExhibitData, shotsOf } from "./document-data.ts";
import type { Block, DataTable } from "./document-model.ts";
import { percentOf, testWords } from "./document-words.ts";

const short = (value: number): string => String(roundSignificant(value, 4));

/** The uncertainty budget of every time, what it rests on, and the calibrations on record. */
export function uncertaintyBlocks(data: ExhibitData): Block[] {
  const shots = shotsOf(data);
  const bases = [...new Set(shots.map(({ opened }) => opened.basis.from))];
  return [
    { kind: "heading", level: 1, text: "Uncertainty" },
    {
      kind: "paragraph",
      text: "Standard uncertainties are combined as in JCGM 100:2008 (GUM), clause 5, and expanded with k from clause G.6.4. One test gives one time: scatter between repeated tests of one specimen is not in these budgets, because a test alters the specimen.",
    },
    ...(bases.length === 0
      ? []
      : [{ kind: "paragraph" as const, text: `They rest on: ${bases.join("; ")}.` }]),
    calibrationBlock(data),
    ...shots.flatMap((shot): Block[] => {
      const { uncertainty } = shot.closed.reading;
      if (uncertainty === null) return [];
      return [
        {
          kind: "table",
          title: `Budget of ${shot.shot} (${testWords(shot)}): u = ${formatSeconds(uncertainty.standard)}, k = ${uncertainty.k.toFixed(2)}, U = ${formatSeconds(uncertainty.expanded)}`,
          header: ["Contribution", "Value", "Distribution", "Divisor", "Sensitivity", "u (s)", "Share"],
          rows: uncertainty.budget.map((line) => [
            line.contribution,
            `${short(line.value)} ${line.unit}`,
            line.distribution,
            short(line.divisor),
            short(line.sensitivity),
            short(line.seconds),
            percentOf(line.share),
          ]),
          widths: [0.3, 0.14, 0.14, 0.09, 0.12, 0.11, 0.1],
        },
        { kind: "paragraph", text: `Sensitivity to current: ${uncertainty.model}.`, weight: "small" },
      ];
    }),
  ];
}

function calibrationBlock(data: ExhibitData): Block {
  const records = data.entries.filter((entry) => entry.kind === "calibration-recorded");
  if (records.length === 0)
    return {
      kind: "paragraph",
      weight: "strong",
      text: "No calibration of the rig is on record: traceability to the SI is not shown.",
    };
  return {
    kind: "table",
    title: "Calibrations on record",
    header: ["Entry", "Instrument", "Serial", "Quantity", "Certificate", "Issuer", "On", "Due"],
    rows: records.map(({ sequence, body }) => {
      const found = body as {
        instrument: string;
        serial: string;
        quantity: string;
        certificate: string;
        issuer: string;
        on: string;
        due: string;
      };
      return [
        String(sequence),
        found.instrument,
        found.serial,
        found.quantity,
        found.certificate,
        found.issuer,
        found.on,
        found.due,
      ];
    }),
    widths: [0.07, 0.17, 0.13, 0.1, 0.17, 0.14, 0.11, 0.11],
  };
}

/** The budgets as numbers, one row for each contribution. */
export function budgetRows(data: ExhibitData): DataTable {
  return {
    name: "uncertainty-budgets",
    title: "Uncertainty budgets",
    header: [
      "test",
      "contribution",
      "value",
      "unit",
      "distribution",
      "divisor",
      "sensitivity_s_per_unit",
      "standard_uncertainty_s",
      "degrees_of_freedom",
      "share",
    ],
    rows: shotsOf(data).flatMap(({ shot, closed }) =>
      (closed.reading.uncertainty?.budget ?? []).map((line) => [
        shot,
        line.contribution,
        line.value,
        line.unit,
        line.distribution,
        line.divisor,
        line.sensitivity,
        line.seconds,
        line.degreesOfFreedom,
        line.share,
      ]),
    ),
  };
}
