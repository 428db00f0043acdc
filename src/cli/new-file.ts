import { existsSync } from "node:fs";
import { InputError } from "../lab/input-error.ts";

/** @throws InputError for the name of a file that is there: no command writes over one */
export function refuseExisting(path: string | undefined): void {
  if (path !== undefined && existsSync(path))
    throw new InputError(`${path} exists already; accepted is a new name`);
}
