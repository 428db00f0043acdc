import type { Command } from "commander";
import { listPorts } from "../bench/list-ports.ts";
import { printResult, runCommand, textTable } from "./output.ts";

/** `asfound ports`: the serial ports of this machine. */
export function addPorts(program: Command): void {
  program
    .command("ports")
    .description("list the serial ports of this machine")
    .option("--json", "print one JSON document", false)
    .action(({ json }: { json: boolean }) =>
      runCommand(json, async () => {
        const ports = await listPorts();
        printResult(json, { ports }, () =>
          ports.length === 0
            ? "No serial port found. A path can still be given as serial:PATH."
            : textTable([
                ["link", "maker", "serial number"],
                ...ports.map((port) => [port.address, port.manufacturer ?? "", port.serialNumber ?? ""]),
              ]),
        );
      }),
    );
}
