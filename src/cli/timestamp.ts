import { readFileSync, writeFileSync } from "node:fs";
import type { Command } from "commander";
import type { StampView } from "../contract/ledger-views.ts";
import { InputError } from "../lab/input-error.ts";
import { acceptTimeStamp, requestTimeStamp, stampViews } from "../lab/time-stamps.ts";
import { refuseExisting } from "./new-file.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type Options = { data: string; json: boolean };

/** `asfound timestamp`: the ledger's head stamped by an authority, all files, nothing over a network. */
export function addTimestamp(program: Command): void {
  const timestamp = program
    .command("timestamp")
    .description("time stamps of an authority over the ledger's head (RFC 3161), by files");
  timestamp
    .command("request")
    .description("make a request over the ledger as it stands, to be sent to an authority")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--out <file.tsq>", "a new file for the request")
    .option("--statement <file>", "write the statement that is stamped, too")
    .option("--json", "print one JSON document", false)
    .action(({ data, out, statement, json }: Options & { out: string; statement?: string }) =>
      runCommand(json, () => {
        for (const file of [out, statement]) refuseExisting(file);
        readingFrom(data, (lab) => {
          const { request, text, ...made } = requestTimeStamp(lab);
          writeFileSync(out, request, { flag: "wx" });
          if (statement !== undefined) writeFileSync(statement, text, { flag: "wx" });
          printResult(json, { out, ...made, statement: text }, () =>
            [
              `${out}: a request over entry ${made.entries}, head ${made.head}.`,
              "Send it to a time stamp authority, such as by",
              `  curl -H 'Content-Type: application/timestamp-query' --data-binary @${out} ADDRESS > answer.tsr`,
              "and store the answer: asfound timestamp accept --data DIR --response answer.tsr",
            ].join("\n"),
          );
        });
      }),
    );
  timestamp
    .command("accept")
    .description("check an authority's answer and store it in the ledger")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--response <file.tsr>", "the answer")
    .option("--json", "print one JSON document", false)
    .action(({ data, response, json }: Options & { response: string }) =>
      runCommand(json, () => {
        const bytes = bytesOf(response);
        writingTo(data, (lab) => {
          const view = acceptTimeStamp(lab, bytes, response);
          printResult(json, view, () => stampText(view));
        });
      }),
    );
  timestamp
    .command("list")
    .description("the time stamps in the ledger")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: Options) =>
      runCommand(json, () => {
        readingFrom(data, (lab) => {
          const views = stampViews(lab);
          printResult(json, { stamps: views }, () =>
            views.length === 0
              ? "The ledger holds no time stamp."
              : [
                  textTable([
                    ["entry", "stamps entry", "at", "authority"],
                    ...views.map((one) => [
                      String(one.sequence),
                      String(one.entries),
                      one.time,
                      one.authority,
                    ]),
                  ]),
                  ...views.flatMap((one) => one.remarks),
                ].join("\n"),
          );
        });
      }),
    );
}

function bytesOf(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new InputError(`${path}: cannot be read: ${(error as Error).message}`);
  }
}

const stampText = (view: StampView): string =>
  [
    `Stored as entry ${view.sequence}: ${view.authority} says that the ledger stood at entry ${view.entries} at ${view.time}.`,
    "Whether the authority is to be trusted is checked with its root: openssl ts -verify -data STATEMENT -in ANSWER.tsr -CAfile ROOT.pem",
    ...view.remarks,
  ].join("\n");
