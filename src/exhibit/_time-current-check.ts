import type { CurvePoint, DrawnShot, TimeCurrentFigureData } from "../contract/exhibit-figures.ts";

/**
 * Refuses what has no place on logarithmic axes.
 *
 * @throws RangeError naming the mark
 */
export function checkTimeCurrent(data: TimeCurrentFigureData): void {
  positive("ratedAmps", data.ratedAmps);
  for (const { label, multiple, seconds } of data.limits) curve(`limit "${label}"`, [[multiple, seconds]]);
  for (const { label, minimum, maximum } of data.bands) {
    if (minimum.length < 2 || maximum.length < 2)
      throw new RangeError(`band "${label}": expected at least 2 points on each edge`);
    curve(`band "${label}"`, [...minimum, ...maximum]);
  }
  data.shots.forEach(shot);
  if (data.model !== null)
    curve(`model "${data.model.label}"`, [...data.model.curve, ...data.model.lower, ...data.model.upper]);
}

function positive(name: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new RangeError(`${name}: expected a positive number but found ${value}`);
}

function curve(name: string, points: readonly CurvePoint[]): void {
  for (const [current, seconds] of points) {
    positive(`current of ${name}`, current);
    positive(`time of ${name}`, seconds);
  }
}

function shot({ label, multiple, seconds, time, current }: DrawnShot): void {
  const name = `shot "${label}"`;
  curve(name, [[multiple, seconds]]);
  if (time !== null) encloses(`time of ${name}`, seconds, time.lower, time.upper ?? seconds);
  if (current !== null) encloses(`current of ${name}`, multiple, current.lower, current.upper);
}

function encloses(name: string, value: number, lower: number, upper: number): void {
  if (!(lower > 0 && lower <= value && value <= upper && Number.isFinite(upper)))
    throw new RangeError(
      `${name}: expected 0 < lower <= value <= upper but found ${lower}, ${value}, ${upper}`,
    );
}
