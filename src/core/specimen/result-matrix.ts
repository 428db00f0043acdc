import type { Loading, OperationState } from "./specimen.ts";

/** What places a shot in the matrix; the rest of it is carried along. */
export interface PlacedShot {
  multiple: number;
  loading: Loading;
  state: OperationState;
}

/** The newest shot of a cell, with those before it, newest first: a pass must not hide an earlier fail. */
export type Cell<T> = T & { earlier: T[] };

/** Cells of one state: a row for each multiple, a cell for each loading, null where nothing was shot. */
export interface MatrixPart<T> {
  state: OperationState["kind"];
  cells: (Cell<T> | null)[][];
}

/** Multiples down, ascending; loadings across; as found and exercised apart, with the same rows and columns. */
export interface ResultMatrix<T> {
  multiples: number[];
  loadings: Loading[];
  parts: MatrixPart<T>[];
}

const loadingOrder: readonly Loading[] = ["pole-1", "pole-2", "pole-3", "all"];

/**
 * Arranges the shots of one specimen, which must come newest first. A state in which nothing was shot has no part.
 */
export function resultMatrix<T extends PlacedShot>(shots: readonly T[]): ResultMatrix<T> {
  const multiples = [...new Set(shots.map((shot) => shot.multiple))].sort((a, b) => a - b);
  const loadings = loadingOrder.filter((loading) => shots.some((shot) => shot.loading === loading));
  const states = (["as-found", "exercised"] as const).filter((state) =>
    shots.some((shot) => shot.state.kind === state),
  );
  return {
    multiples,
    loadings,
    parts: states.map((state) => ({
      state,
      cells: multiples.map((multiple) =>
        loadings.map((loading) => {
          const [newest, ...earlier] = shots.filter(
            (shot) => shot.multiple === multiple && shot.loading === loading && shot.state.kind === state,
          );
          return newest === undefined ? null : { ...newest, earlier };
        }),
      ),
    })),
  };
}
