import { createInterface } from "node:readline";
import { text } from "node:stream/consumers";
import type { Command } from "commander";
import { computeFamily, families } from "../lab/compute.ts";
import { InputError } from "../lab/input-error.ts";
import { note, printResult, runCommand, textTable } from "./output.ts";

type Options = { list: boolean; lines: boolean; json: boolean };

/** `asfound compute FAMILY`: one statistical method on inputs from stdin. */
export function addCompute(program: Command): void {
  program
    .command("compute")
    .description("compute one statistical method from a JSON object of inputs on stdin")
    .argument("[family]", "name of the method")
    .option("--list", "name the methods with their inputs and outputs", false)
    .option("--lines", "read one JSON object a line and print one a line", false)
    .option("--json", "print one JSON document", false)
    .action((family: string | undefined, options: Options) =>
      runCommand(options.json, async () => {
        if (options.list) {
          const listed = families.map(({ name, about, inputs, outputs }) => ({
            name,
            about,
            inputs,
            outputs,
          }));
          printResult(options.json, { families: listed }, () =>
            listed
              .map((one) =>
                [
                  `${one.name}: ${one.about}`,
                  ...Object.entries(one.inputs).map(([key, words]) => `  in   ${key}: ${words}`),
                  ...Object.entries(one.outputs).map(([key, words]) => `  out  ${key}: ${words}`),
                ].join("\n"),
              )
              .join("\n"),
          );
          return;
        }
        if (family === undefined) throw new InputError("the name of a method is needed; --list names them");
        if (options.lines) await computeLines(family);
        else {
          const output = computeFamily(family, parse(await text(process.stdin), "stdin"));
          printResult(options.json, output, () =>
            textTable([
              ["output", "value"],
              ...Object.entries(output).map(([key, value]) => [key, JSON.stringify(value)]),
            ]),
          );
        }
      }),
    );
}

/** A line that cannot be computed gives `{ "error": … }` in its place and exit code 2; the others are computed all the same. */
async function computeLines(family: string): Promise<void> {
  let number = 0;
  for await (const line of createInterface({ input: process.stdin })) {
    number += 1;
    if (line.trim() === "") continue;
    let output: Record<string, unknown>;
    try {
      output = computeFamily(family, parse(line, `line ${number}`));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      output = { error: error.message };
      process.exitCode = 2;
      note(`asfound: line ${number}: ${error.message}`);
    }
    process.stdout.write(`${JSON.stringify(output)}\n`);
  }
}

function parse(json: string, where: string): unknown {
  try {
    return JSON.parse(json);
  } catch (error) {
    throw new InputError(`${where}: not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
}
