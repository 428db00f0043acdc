/** Attributes of an element; numbers are written with two decimals at most, undefined ones are left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** Letters of every figure: a family that is free to embed, and what stands in for it. */
export const fontFamily = "DejaVu Sans, sans-serif";

/**
 * Text for markup: the five characters with a meaning there are escaped, and those that XML 1.0 forbids become U+FFFD.
 *
 * Source: Extensible Markup Language 1.0, fifth edition, productions 2 (Char), 10 and 14.
 */
export function escapeText(text: string): string {
  return [...text]
    .map((letter) => (isForbidden(letter.codePointAt(0) ?? 0) ? "\uFFFD" : (entities[letter] ?? letter)))
    .join("");
}

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

const isForbidden = (code: number) =>
  (code < 32 && code !== 9 && code !== 10 && code !== 13) ||
  (code >= 0xd800 && code <= 0xdfff) ||
  code === 0xfffe ||
  code === 0xffff;

/**
 * A number for a figure: two decimals at most, so that the last bits of a logarithm never reach the bytes.
 *
 * @throws RangeError if it is not finite: a figure never shows what is not known
 */
export function svgNumber(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`a figure needs finite numbers but found ${value}`);
  const rounded = Number(value.toFixed(2));
  return String(rounded === 0 ? 0 : rounded);
}

/** One element with its children, which are markup already. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(
      ([key, value]) => ` ${key}="${typeof value === "number" ? svgNumber(value) : escapeText(`${value}`)}"`,
    )
    .join("");
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join("")}</${name}>`;
}

/** Corners as the `points` of a polygon or polyline. */
export function pointList(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y]) => `${svgNumber(x)},${svgNumber(y)}`).join(" ");
}

/** A whole figure of fixed size on white ground, one part a line. Title and description are for those who hear it. */
export function svgDocument(
  size: { width: number; height: number },
  words: { title: string; description: string },
  parts: readonly string[],
): string {
  const { width, height } = size;
  const body = [
    element("title", {}, escapeText(words.title)),
    element("desc", {}, escapeText(words.description)),
    element("rect", { x: 0, y: 0, width, height, fill: "#ffffff" }),
    ...parts.filter((part) => part !== ""),
  ];
  return `${element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width,
      height,
      viewBox: `0 0 ${svgNumber(width)} ${svgNumber(height)}`,
      role: "img",
      "font-family": fontFamily,
    },
    `\n${body.join("\n")}\n`,
  )}\n`;
}
