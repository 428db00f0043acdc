import type { Command } from "commander";
import type { BandAbout } from "../contract/band-schema.ts";
import type { Standing } from "../core/limits/limit-set.ts";
import { bandViews, importBand } from "../lab/bands.ts";
import { choiceOption } from "./option-values.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type ImportOptions = {
  data: string;
  id: string;
  title: string;
  document: string;
  edition?: string;
  clause?: string;
  standing: Standing;
  doubtful: boolean;
  note?: string;
  makeCode?: string;
  typeCode?: string;
  json: boolean;
};

/** `asfound bands import | list`: the lab's own time-current bands. */
export function addBands(program: Command): void {
  const command = program
    .command("bands")
    .description("the lab's own minimum and maximum time-current curves");
  command
    .command("import")
    .description("add a band from CSV (edge,amps,seconds or edge,multiple,seconds) or JSON")
    .argument("<file>", "CSV or JSON file with the points of both edges")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--id <id>", "the name by which it is called: lower case, digits, hyphens")
    .requiredOption("--title <text>", "one line for a reader")
    .requiredOption("--document <text>", "publication from which it was digitised")
    .option("--edition <text>", "edition or date of the publication")
    .option("--clause <text>", "page, figure or drawing number")
    .option(
      "--standing <text>",
      '"read in the document" | "seen second-hand" | "from memory" | "our own choice"',
      choiceOption(["read in the document", "seen second-hand", "from memory", "our own choice"] as const),
      "seen second-hand",
    )
    .option("--doubtful", "mark it as doubtful", false)
    .option("--note <text>", "how it was digitised, and what else matters")
    .option("--make-code <code>", "specimens with this code are judged by it")
    .option("--type-code <code>", "specimens with this code are judged by it")
    .option("--json", "print one JSON document", false)
    .action((file: string, options: ImportOptions) =>
      runCommand(options.json, () => {
        const about: BandAbout = {
          id: options.id,
          title: options.title,
          source: {
            document: options.document,
            edition: options.edition ?? null,
            clause: options.clause ?? null,
            standing: options.standing,
            doubtful: options.doubtful,
            note: options.note ?? "",
          },
          makeCode: options.makeCode ?? null,
          typeCode: options.typeCode ?? null,
        };
        writingTo(options.data, (lab) => {
          const added = importBand(lab, file, about);
          printResult(
            options.json,
            added,
            () =>
              `Added band ${added.band.id}: ${added.band.minimum.length} points on the minimum edge, ${added.band.maximum.length} on the maximum. SHA-256 of the file ${added.tableHash}.`,
          );
        });
      }),
    );
  command
    .command("list")
    .description("every band of the lab")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action((options: { data: string; json: boolean }) =>
      runCommand(options.json, () => {
        readingFrom(options.data, (lab) => {
          const bands = bandViews(lab);
          printResult(options.json, { bands }, () =>
            textTable([
              ["band", "title", "in", "points", "make", "type", "document", "standing"],
              ...bands.map(({ band, makeCode, typeCode }) => [
                band.id,
                band.title,
                band.current === "amps" ? "A" : "multiples",
                `${band.minimum.length} + ${band.maximum.length}`,
                makeCode ?? "–",
                typeCode ?? "–",
                [band.source.document, band.source.edition, band.source.clause]
                  .filter((part) => part !== null)
                  .join(", "),
                `${band.source.standing}${band.source.doubtful ? ", doubtful" : ""}`,
              ]),
            ]),
          );
        });
      }),
    );
}
