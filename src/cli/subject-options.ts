import type { Command } from "commander";
import { InputError } from "../lab/input-error.ts";

export type SubjectOptions = { specimen?: string; job?: string };

/** Adds the options that say of which specimen or job a command is. */
export const addSubjectOptions = (command: Command): Command =>
  command
    .option("--specimen <id>", "identifier of the specimen")
    .option("--job <name>", "name of the job, instead of a specimen");

/** What the options name. @throws InputError unless it is one of the two */
export function subjectOfOptions({ specimen, job }: SubjectOptions): {
  kind: "specimen" | "job";
  id: string;
} {
  if (specimen !== undefined && job === undefined) return { kind: "specimen", id: specimen };
  if (job !== undefined && specimen === undefined) return { kind: "job", id: job };
  throw new InputError("accepted is one of --specimen ID and --job NAME");
}

/** Fields of a JSON file together with the name of who makes the entry. @throws InputError for what is no object */
export function withPerson(value: unknown, by: string, where: string): object {
  if (typeof value !== "object" || value === null || Array.isArray(value))
    throw new InputError(`${where}: an object is expected`);
  return { ...value, by };
}
