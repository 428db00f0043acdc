import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";

/** The program's own folder: the nearest one above this file that holds `curves`. */
export function projectFolder(): string {
  let folder: string = import.meta.dirname;
  while (!existsSync(join(folder, "curves")) || !existsSync(join(folder, "package.json"))) {
    const above = dirname(folder);
    if (above === folder)
      throw new Error(`No folder above ${import.meta.dirname} holds curves and package.json`);
    folder = above;
  }
  return folder;
}

/** Version of the program, as package.json has it. */
export function programVersion(): string {
  const text = readFileSync(join(projectFolder(), "package.json"), "utf8");
  return (JSON.parse(text) as { version: string }).version;
}
