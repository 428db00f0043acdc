/** The page's palette as a canvas needs it: read once from the style sheet, so that charts and page have one source. */
export interface ChartInk {
  ink: string;
  soft: string;
  line: string;
  faint: string;
  panel: string;
  live: string;
  late: string;
  soon: string;
  limit: string;
  trace: string;
}

/** Reads the palette's values from the document. */
export function chartInk(): ChartInk {
  const style = getComputedStyle(document.documentElement);
  const value = (name: string) => style.getPropertyValue(name).trim();
  return {
    ink: value("--ink"),
    soft: value("--ink-soft"),
    line: value("--edge"),
    faint: value("--grid"),
    panel: value("--panel"),
    live: value("--live"),
    late: value("--region-late"),
    soon: value("--region-soon"),
    limit: value("--limit"),
    trace: value("--trace"),
  };
}

/** The page's letters at a size in CSS pixels, for `CanvasRenderingContext2D.font` on this screen. */
export function chartFont(pixels: number, weight = "400"): string {
  return `${weight} ${pixels * devicePixelRatio}px "Segoe UI", Roboto, "Helvetica Neue", "Liberation Sans", Arial, sans-serif`;
}

/** Writes text with a rim in the ground's colour, so that it stays readable over lines. */
export function writeText(
  context: CanvasRenderingContext2D,
  text: string,
  x: number,
  y: number,
  colour: string,
  rim: string,
): void {
  context.lineJoin = "round";
  context.lineWidth = 4 * devicePixelRatio;
  context.strokeStyle = rim;
  context.setLineDash([]);
  context.strokeText(text, x, y);
  context.fillStyle = colour;
  context.fillText(text, x, y);
}
