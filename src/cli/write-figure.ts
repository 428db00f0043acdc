import { writeFileSync } from "node:fs";
import { InputError } from "../lab/input-error.ts";
import { note } from "./output.ts";

/** Writes an SVG and says so on stderr. @throws InputError where the file cannot be written */
export function writeFigure(path: string, svg: string): void {
  try {
    writeFileSync(path, svg);
  } catch (error) {
    throw new InputError(
      `${path}: cannot be written: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
  note(`wrote ${path}`);
}
