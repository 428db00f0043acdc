import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { resultMatrix } from "../../../src/core/specimen/result-matrix.ts";
import type { Loading, OperationState } from "../../../src/core/specimen/specimen.ts";

const arbitraryShot = fc.record({
  id: fc.integer(),
  multiple: fc.constantFrom(1, 1.35, 2, 3),
  loading: fc.constantFrom<Loading>("pole-1", "pole-2", "pole-3", "all"),
  state: fc.constantFrom<OperationState>({ kind: "as-found" }, { kind: "exercised", operations: 1 }),
});

describe("resultMatrix", () => {
  it("holds in each cell the shots of that multiple, loading and state, the newest first, and no others", () => {
    fc.assert(
      fc.property(fc.array(arbitraryShot, { maxLength: 30 }), (shots) => {
        const { multiples, loadings, parts } = resultMatrix(shots);
        expect(multiples).toEqual([...multiples].sort((a, b) => a - b));
        let filled = 0;
        for (const part of parts) {
          part.cells.forEach((row, i) => {
            row.forEach((cell, j) => {
              const there = shots.filter(
                (shot) =>
                  shot.multiple === multiples[i] &&
                  shot.loading === loadings[j] &&
                  shot.state.kind === part.state,
              );
              const { earlier = [], ...newest } = cell ?? {};
              expect(cell === null ? [] : [newest, ...earlier]).toEqual(there);
              filled += there.length;
            });
          });
        }
        expect(filled).toBe(shots.length);
      }),
    );
  });

  it("keeps as found and exercised apart, and has no part for what was not shot", () => {
    const found = resultMatrix([{ multiple: 2, loading: "all", state: { kind: "as-found" } }]);
    expect(found.parts.map((part) => part.state)).toEqual(["as-found"]);
    expect(resultMatrix([]).parts).toEqual([]);
  });
});
