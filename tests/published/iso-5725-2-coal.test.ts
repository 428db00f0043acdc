import { describe, it } from "vitest";
import { precision } from "../../src/core/stats/precision.ts";
import { expectPrinted } from "./printed.ts";

// ISO 5725-2:1994, B.1: sulfur in coal, eight labs, four levels (% by mass). Data and printed results from memory; that all twelve
// results come out speaks for the data

const levels = [
  {
    labs: [
      [0.71, 0.71, 0.7, 0.71],
      [0.69, 0.67, 0.68],
      [0.66, 0.65, 0.69],
      [0.67, 0.65, 0.66],
      [0.7, 0.69, 0.66, 0.71, 0.69],
      [0.73, 0.74, 0.73],
      [0.71, 0.71, 0.69],
      [0.7, 0.65, 0.68],
    ],
    printed: ["0.690", "0.015", "0.026"],
  },
  {
    labs: [
      [1.2, 1.18, 1.23, 1.21],
      [1.22, 1.21, 1.22],
      [1.28, 1.31, 1.3],
      [1.23, 1.18, 1.2],
      [1.31, 1.22, 1.22, 1.24],
      [1.39, 1.36, 1.37],
      [1.2, 1.26, 1.26],
      [1.24, 1.22, 1.3],
    ],
    printed: ["1.252", "0.029", "0.061"],
  },
  {
    labs: [
      [1.68, 1.7, 1.68, 1.69],
      [1.64, 1.64, 1.65],
      [1.61, 1.61, 1.62],
      [1.68, 1.66, 1.66],
      [1.64, 1.67, 1.6, 1.66, 1.68],
      [1.7, 1.73, 1.73],
      [1.69, 1.7, 1.68],
      [1.67, 1.68, 1.67],
    ],
    printed: ["1.667", "0.017", "0.035"],
  },
  {
    labs: [
      [3.26, 3.26, 3.2, 3.24],
      [3.2, 3.2, 3.2],
      [3.37, 3.36, 3.38],
      [3.16, 3.22, 3.23],
      [3.2, 3.19, 3.18, 3.27, 3.24],
      [3.27, 3.31, 3.29],
      [3.27, 3.24, 3.23],
      [3.25, 3.26, 3.26],
    ],
    printed: ["3.250", "0.026", "0.058"],
  },
] as const;

describe("ISO 5725-2:1994 B.1, values from memory", () => {
  it.each(levels.map((level, index) => [index + 1, level] as const))(
    "level %d",
    (_number, { labs, printed }) => {
      const { grandMean, repeatability, reproducibility } = precision(labs);
      expectPrinted(grandMean, printed[0]);
      expectPrinted(repeatability, printed[1]);
      expectPrinted(reproducibility, printed[2]);
    },
  );
});
