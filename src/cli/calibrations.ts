import type { Command } from "commander";
import { addCalibration, calibrationViews } from "../lab/calibrations.ts";
import { readJsonFile } from "../lab/read-json-file.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

/** `asfound calibrations add | list`: certificates of the rig and its instruments. */
export function addCalibrations(program: Command): void {
  const command = program
    .command("calibrations")
    .description("calibration records of the rig and its instruments");
  command
    .command("add")
    .description("record a certificate from a JSON file")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption(
      "--file <file>",
      "JSON: instrument, serial, quantity, certificate, issuer, on, due, k, and expandedPercent, expandedSeconds or points",
    )
    .option("--json", "print one JSON document", false)
    .action((options: { data: string; file: string; json: boolean }) =>
      runCommand(options.json, () => {
        const value = readJsonFile(options.file);
        writingTo(options.data, (lab) => {
          const record = addCalibration(lab, value, options.file);
          printResult(
            options.json,
            record,
            () =>
              `Recorded: ${record.quantity} of ${record.instrument} ${record.serial}, certificate ${record.certificate}, due ${record.due}.`,
          );
        });
      }),
    );
  command
    .command("list")
    .description("every record, newest first, with what it is today")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action((options: { data: string; json: boolean }) =>
      runCommand(options.json, () => {
        readingFrom(options.data, (lab) => {
          const calibrations = calibrationViews(lab);
          printResult(options.json, { calibrations }, () =>
            textTable([
              ["instrument", "serial", "quantity", "certificate", "issuer", "on", "due", "U", "k", "today"],
              ...calibrations.map(({ record, state }) => [
                record.instrument,
                record.serial,
                record.quantity,
                record.certificate,
                record.issuer,
                record.on,
                record.due,
                record.expandedPercent !== null
                  ? `${record.expandedPercent} %`
                  : record.expandedSeconds !== null
                    ? `${record.expandedSeconds} s`
                    : `${record.points.length} points`,
                String(record.k),
                state,
              ]),
            ]),
          );
        });
      }),
    );
}
