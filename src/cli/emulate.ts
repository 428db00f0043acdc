import type { Command } from "commander";
import { InputError } from "../lab/input-error.ts";
import { breakerChoices, offerRig } from "../lab/offer-rig.ts";
import { integerOption, numberOption } from "./option-values.ts";
import { note, printResult, runCommand, textTable } from "./output.ts";

type Options = {
  tcp?: number;
  pty?: string;
  speed: number;
  seed: number;
  breaker: string;
  faults: string;
  list: boolean;
  json: boolean;
};

/** `asfound emulate`: the emulated rig on its own, behind a TCP port or a pseudo-terminal, until ended. */
export function addEmulate(program: Command): void {
  program
    .command("emulate")
    .description("run the emulated rig behind a TCP port or a pseudo-terminal until ended")
    .option("--tcp <port>", "loopback TCP port, 0 for any free one", integerOption(0, 65535))
    .option("--pty <path>", "path of a pseudo-terminal to make (needs socat)")
    .option(
      "--speed <n>",
      "how many times faster than the wall its clock runs",
      numberOption(0.01, 100000, ""),
      1,
    )
    .option("--seed <n>", "seed of its scatter and noise", integerOption(0, 4294967295), 1)
    .option("--breaker <name|file>", "the breaker clamped in: a built-in one or a JSON file", "sound")
    .option("--faults <list>", "faults of the line, such as drop=0.02,pull-at=3", "")
    .option("--list", "name the built-in breakers, healthy and faulty", false)
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, async () => {
        if (options.list) {
          const breakers = breakerChoices();
          printResult(options.json, { breakers }, () =>
            textTable([
              ["breaker", "", "about"],
              ...breakers.map((one) => [one.name, one.healthy ? "healthy" : "faulty", one.about]),
            ]),
          );
          return;
        }
        if ((options.tcp === undefined) === (options.pty === undefined)) {
          throw new InputError("exactly one of --tcp PORT and --pty PATH is needed");
        }
        const { pty, tcp, speed, seed } = options;
        const offered = await offerRig({
          place: pty === undefined ? { tcp: tcp ?? 0 } : { pty },
          speed,
          seed,
          breaker: options.breaker,
          faults: options.faults,
        });
        const { address, breaker } = offered;
        printResult(
          options.json,
          { address, breaker, speed, seed },
          () => `Emulated rig with breaker "${breaker}" at ${address}, clock ${speed} times the wall's.`,
        );
        note("It runs until ended (Ctrl-C).");
        await new Promise<void>((resolve) => {
          process.once("SIGINT", resolve);
          process.once("SIGTERM", resolve);
        });
        await offered.close();
      }),
    );
}
