/** Greys of every figure: colour carries nothing, so that a copy in grey loses nothing. Text needs 4.5:1 on white, lines 3:1. */
export const ink = {
  text: "#1a1a1a",
  soft: "#4a4a4a",
  mark: "#1a1a1a",
  line: "#6b6b6b",
  hatch: "#8c8c8c",
  /** Only for the grid, which carries nothing. */
  grid: "#e2e2e2",
  paper: "#ffffff",
} as const;

/** Line styles in the order in which curves take them, each told from the others without colour. */
export const dashes = [undefined, "7 4", "2 3", "9 3 2 3", "14 4", "5 2 1 2 1 2"] as const;

/** The line style of the curve at a place in the list. */
export function dashOf(index: number): string | undefined {
  return dashes[index % dashes.length];
}
