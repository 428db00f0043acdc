/** A stretch of a time axis: how wide it is drawn, and whether that is to the scale of the axis. */
export interface Stretch {
  width: number;
  drawn: "to scale" | "shortened" | "lengthened" | "unknown";
}

/**
 * Widths of the stretches between neighbouring moments, so that every one has room for its words and no idle one takes the
 * room of the others. All are to scale where that is possible; otherwise as many as can be, and the others are held to a
 * smallest or largest width and say so. Where a length is not known nothing is to scale.
 *
 * @param lengths in one unit, zero or more; null where not known
 * @param room what they may take together; at least `least` for each
 */
export function stretchWidths(lengths: readonly (number | null)[], room: number, least: number): Stretch[] {
  const known = lengths.filter((length) => length !== null);
  if (known.length < lengths.length)
    return lengths.map(() => ({ width: room / lengths.length, drawn: "unknown" }));
  const total = known.reduce((sum, length) => sum + length, 0);
  if (total > 0 && known.every((length) => (length / total) * room >= least))
    return known.map((length) => ({ width: (length / total) * room, drawn: "to scale" }));
  // Small enough that the longest cannot take all that the others leave.
  const most = room / known.length + (room - known.length * least) / 2;
  const at = (scale: number) => known.map((length) => Math.min(most, Math.max(least, length * scale)));
  const scale = largestScale(known, at, room, most);
  return at(scale).map((width, i) => {
    const exact = (known[i] ?? 0) * scale;
    return {
      width,
      drawn: exact > width * 1.001 ? "shortened" : exact < width * 0.999 ? "lengthened" : "to scale",
    };
  });
}

/** The largest scale whose widths fit. They only grow with it, so halving finds it. */
function largestScale(
  lengths: readonly number[],
  at: (scale: number) => number[],
  room: number,
  most: number,
): number {
  const shortest = Math.min(...lengths.filter((length) => length > 0));
  let [low, high] = [0, Number.isFinite(shortest) ? most / shortest : 0];
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (at(middle).reduce((sum, width) => sum + width, 0) <= room) low = middle;
    else high = middle;
  }
  return low;
}
