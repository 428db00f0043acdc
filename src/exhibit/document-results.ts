import { requirementWords } from "../core/limits/requirement-words.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import { resultMatrix } from "../core/specimen/result-matrix.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { type ExhibitData, type ShotData, shotsOf } from "./document-data.ts";
import type { Block, DataTable } from "./document-model.ts";
import { percentOf, resultWords, stateWords, testWords, timeWords } from "./document-words.ts";

/** Figures, the matrix of results, the readings, and each shot with its numbers and reasons. */
export function resultBlocks(data: ExhibitData): Block[] {
  const shots = shotsOf(data);
  if (shots.length === 0)
    return [
      { kind: "heading", level: 1, text: "Results" },
      { kind: "paragraph", text: "No finished test is on record for this subject." },
    ];
  return [
    { kind: "heading", level: 1, text: "Results" },
    matrixTable(data),
    readingTable(data),
    ...data.figures.timeCurrent.map((figure): Block => ({ kind: "figure", figure })),
    { kind: "heading", level: 1, text: "Each test" },
    ...shots.flatMap((shot) => shotBlocks(data, shot)),
  ];
}

/** One row for each specimen, state and multiple; the newest shot in each cell. */
function matrixTable(data: ExhibitData): Block {
  const loadings = (["pole-1", "pole-2", "pole-3", "all"] as const).filter((loading) =>
    shotsOf(data).some(({ opened }) => opened.loading === loading),
  );
  const rows = data.specimens.flatMap(({ details, shots }) => {
    const matrix = resultMatrix(
      [...shots].reverse().map((shot) => ({
        multiple: shot.opened.row.multiple,
        loading: shot.opened.loading,
        state: shot.opened.state,
        shot,
      })),
    );
    return matrix.parts.flatMap(({ state, cells }) =>
      matrix.multiples.flatMap((multiple, at) => {
        const row = cells[at] ?? [];
        if (row.every((cell) => cell === null)) return [];
        return [
          [
            details.label,
            state === "as-found" ? "as found" : "exercised",
            formatMultiple(multiple),
            ...loadings.map((loading) => {
              const cell = row[matrix.loadings.indexOf(loading)] ?? null;
              if (cell === null) return "";
              const { result, finding } = cell.shot.closed.verdict;
              const earlier = cell.earlier.map(({ shot }) => resultWords(shot.closed.verdict.result));
              return `${resultWords(result)}, ${finding}${earlier.length === 0 ? "" : `; before it: ${earlier.join(", ")}`}`;
            }),
          ],
        ];
      }),
    );
  });
  return {
    kind: "table",
    title: "Result matrix: the newest test in each place",
    header: ["Specimen", "State", "Current", ...loadings.map(loadingWords)],
    rows,
    widths: [0.16, 0.12, 0.1, ...loadings.map(() => 0.62 / loadings.length)],
  };
}

function readingTable(data: ExhibitData): Block {
  return {
    kind: "table",
    title: "Readings; uncertainty expanded, coverage about 95 %",
    header: ["Test", "Specimen, state", "Test current", "Effective current", "Time", "Limit", "Result"],
    rows: shotsOf(data).map((shot) => {
      const { reading, verdict } = shot.closed;
      return [
        shot.shot,
        `${labelOf(data, shot)}, ${stateWords(shot.opened.state)}`,
        `${formatAmps(shot.opened.targetAmps)} (${testWords(shot)})`,
        formatAmps(reading.effectiveAmps),
        timeWords(reading),
        verdict.limitSeconds === null ? "none" : formatSeconds(verdict.limitSeconds),
        resultWords(verdict.result),
      ];
    }),
    widths: [0.13, 0.16, 0.2, 0.13, 0.14, 0.1, 0.14],
  };
}

const labelOf = (data: Pick<ExhibitData, "specimens">, shot: ShotData): string =>
  data.specimens.find((one) => one.specimen === shot.opened.specimen)?.details.label ?? shot.opened.specimen;

function shotBlocks(data: ExhibitData, shot: ShotData): Block[] {
  const { opened, closed } = shot;
  const { reading, verdict } = closed;
  const figure = data.figures.shots.get(shot.shot);
  const interval = reading.interval;
  const facts: [string, string][] = [
    ["Test", `${labelOf(data, shot)}: ${testWords(shot)}, ${stateWords(opened.state)}`],
    [
      "Requirement",
      `must ${requirementWords(opened.row.requirement)} (row ${opened.row.id} of ${opened.limitSet})`,
    ],
    ["Current set", formatAmps(opened.targetAmps)],
    [
      "Current measured",
      `${formatAmps(reading.effectiveAmps)} effective over the on-time, ${formatAmps(reading.lowestAmps)} to ${formatAmps(reading.highestAmps)}; relative expanded uncertainty ${opened.basis.currentPercent} % (k = ${opened.basis.currentK})`,
    ],
    ["Time", timeWords(reading)],
    ...(interval === null
      ? []
      : ([["Detection interval", `${interval.lower.toFixed(4)} s to ${interval.upper.toFixed(4)} s`]] as [
          string,
          string,
        ][])),
    ...(reading.atTarget === undefined
      ? []
      : ([
          [
            "Corrected to the set current",
            `${formatSeconds(reading.atTarget.seconds)}, a calculation: ${reading.atTarget.model}`,
          ],
        ] as [string, string][])),
    ["Ambient", closed.ambientCelsius === null ? "not recorded" : `${closed.ambientCelsius.toFixed(1)} °C`],
    [
      "Result",
      `${resultWords(verdict.result)}: ${verdict.finding}${verdict.statement === null ? "" : ` (${verdict.statement})`}`,
    ],
    [
      "Probability of conformity",
      verdict.probability === null
        ? "not defined for this result"
        : `${percentOf(verdict.probability)} (normal state of knowledge, flat prior; no probability that the breaker is safe)`,
    ],
    ["Samples", `${closed.samples} in ${closed.blocks} blocks; SHA-256 ${closed.samplesHash}`],
    [
      "Rig",
      `${opened.rig.model}, serial ${opened.rig.serial}, firmware ${opened.rig.firmware}${opened.rig.emulated ? "; EMULATED" : ""}`,
    ],
  ];
  return [
    { kind: "heading", level: 2, text: `Test ${shot.shot}` },
    ...(figure === undefined ? [] : [{ kind: "figure" as const, figure }]),
    { kind: "facts", title: "Numbers", rows: facts },
    { kind: "list", items: verdict.reasons },
  ];
}

/** The readings as numbers, one row for each finished test. */
export function readingRows(data: ExhibitData): DataTable {
  return {
    name: "readings",
    title: "Readings",
    header: [
      "test",
      "specimen",
      "label",
      "state",
      "operations_before",
      "limit_set",
      "limit_row",
      "multiple",
      "loading",
      "target_A",
      "effective_A",
      "lowest_A",
      "highest_A",
      "status",
      "trip_time_s",
      "time_lower_s",
      "time_upper_s",
      "standard_uncertainty_s",
      "expanded_uncertainty_s",
      "k",
      "time_at_target_s",
      "ambient_C",
      "limit_s",
      "result",
      "finding",
      "statement",
      "probability_of_conformity",
      "flags",
      "samples",
      "samples_sha256",
    ],
    rows: shotsOf(data).map((shot) => {
      const { opened, closed } = shot;
      const { reading, verdict } = closed;
      return [
        shot.shot,
        opened.specimen,
        labelOf(data, shot),
        opened.state.kind,
        opened.state.kind === "exercised" ? opened.state.operations : 0,
        opened.limitSet,
        opened.row.id,
        opened.row.multiple,
        opened.loading,
        opened.targetAmps,
        reading.effectiveAmps,
        reading.lowestAmps,
        reading.highestAmps,
        reading.outcome === "tripped" ? "tripped" : "no_trip_stopped",
        reading.seconds,
        reading.interval?.lower ?? (reading.outcome === "tripped" ? null : reading.heldSeconds),
        reading.interval?.upper ?? null,
        reading.uncertainty?.standard ?? null,
        reading.uncertainty?.expanded ?? null,
        reading.uncertainty?.k ?? null,
        reading.atTarget?.seconds ?? null,
        closed.ambientCelsius,
        verdict.limitSeconds,
        verdict.result,
        verdict.finding,
        verdict.statement,
        verdict.probability,
        reading.flags.join(" "),
        closed.samples,
        closed.samplesHash,
      ];
    }),
  };
}
