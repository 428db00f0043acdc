import { readFileSync } from "node:fs";
import { InputError } from "./input-error.ts";

/** Reads a JSON file. @throws InputError that names the file and what is wrong with it */
export function readJsonFile(path: string): unknown {
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch (error) {
    throw new InputError(
      `${path}: cannot be read: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new InputError(`${path}: not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
}
