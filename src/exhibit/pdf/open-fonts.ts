import { createRequire } from "node:module";

const resolve = createRequire(import.meta.url).resolve;
const file = (name: string): string => resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`);

/** Fonts that may be embedded freely, by the names under which documents use them. */
export const openFonts = {
  plain: file("DejaVuSansCondensed"),
  bold: file("DejaVuSansCondensed-Bold"),
  italic: file("DejaVuSansCondensed-Oblique"),
  mono: file("DejaVuSansMono"),
  figure: file("DejaVuSans"),
  "figure-bold": file("DejaVuSans-Bold"),
} as const;

/** Name of an open font. */
export type FontName = keyof typeof openFonts;
