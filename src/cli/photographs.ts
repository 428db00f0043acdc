import { existsSync, writeFileSync } from "node:fs";
import { basename } from "node:path";
import type { Command } from "commander";
import { type PhotographRecord, photographShows } from "../contract/photograph-schema.ts";
import { InputError } from "../lab/input-error.ts";
import { addPhotograph, photographFile, photographViews, readPhotographFile } from "../lab/photographs.ts";
import { choiceOption } from "./option-values.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { addSubjectOptions, type SubjectOptions, subjectOfOptions } from "./subject-options.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type AddOptions = SubjectOptions & {
  data: string;
  shows: PhotographRecord["shows"];
  taken?: string;
  note: string;
  by: string;
  json: boolean;
};

/** `asfound photographs add | list | copy`: photographs, kept as they are and named by the hash of their bytes. */
export function addPhotographs(program: Command): void {
  const command = program.command("photographs").description("photographs of specimens and jobs");
  addSubjectOptions(
    command
      .command("add")
      .description("keep a PNG or JPEG as it is")
      .argument("<file>", "PNG or JPEG")
      .requiredOption("--data <dir>", "data directory"),
  )
    .requiredOption("--shows <what>", photographShows.join(" | "), choiceOption(photographShows))
    .option("--taken <moment>", "when it was taken, such as 2026-06-15T09:30:00Z")
    .option("--note <text>", "note", "")
    .requiredOption("--by <name>", "who makes this entry")
    .option("--json", "print one JSON document", false)
    .action((file: string, options: AddOptions) =>
      runCommand(options.json, () => {
        const told = {
          ...{ about: subjectOfOptions(options), name: basename(file), shows: options.shows },
          ...(options.taken === undefined ? {} : { takenAt: options.taken }),
          ...{ note: options.note, by: options.by },
        };
        const bytes = readPhotographFile(file);
        const view = writingTo(options.data, (lab) => addPhotograph(lab, bytes, told, file));
        printResult(
          options.json,
          view,
          () =>
            `Kept ${view.record.photograph}: ${view.record.width} by ${view.record.height} pixels, ${view.record.bytes} bytes.`,
        );
      }),
    );
  addSubjectOptions(
    command
      .command("list")
      .description("the photographs of a specimen or job")
      .requiredOption("--data <dir>", "data directory"),
  )
    .option("--json", "print one JSON document", false)
    .action((options: SubjectOptions & { data: string; json: boolean }) =>
      runCommand(options.json, () => {
        const about = subjectOfOptions(options);
        const photographs = readingFrom(options.data, (lab) => photographViews(lab, about));
        printResult(options.json, { photographs }, () =>
          textTable([
            ["entry", "photograph", "name", "shows", "pixels", "note", "added by"],
            ...photographs.map(({ sequence, by, record }) => [
              String(sequence),
              record.photograph,
              record.name,
              record.shows,
              `${record.width} x ${record.height}`,
              record.note,
              by,
            ]),
          ]),
        );
      }),
    );
  command
    .command("copy")
    .description("write a photograph to a file, as it is or for publishing")
    .argument("<photograph>", "SHA-256 of the photograph")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--out <file>", "file to write; must not exist")
    .option("--publish", "leave out places, times, words and previews", false)
    .option("--json", "print one JSON document", false)
    .action((hash: string, options: { data: string; out: string; publish: boolean; json: boolean }) =>
      runCommand(options.json, () => {
        if (existsSync(options.out)) throw new InputError(`--out: ${options.out} exists already`);
        const { publish } = options;
        const { bytes } = readingFrom(options.data, (lab) => photographFile(lab, hash, { publish }));
        writeFileSync(options.out, bytes, { flag: "wx" });
        printResult(
          options.json,
          { photograph: hash, out: options.out, bytes: bytes.length, published: publish },
          () => `${options.out}: ${bytes.length} bytes${publish ? ", the picture and nothing else" : ""}`,
        );
      }),
    );
}
