import { existsSync, readdirSync } from "node:fs";
import type { Command } from "commander";
import open from "open";
import { BenchDesk } from "../lab/bench-desk.ts";
import { demoLabName, seedDemoLab } from "../lab/demo-lab.ts";
import { openLab, stationOf } from "../lab/open-lab.ts";
import { Seeding } from "../lab/seeding.ts";
import { workshopBeside } from "../lab/workshop-beside.ts";
import { buildServer } from "../server/build-server.ts";
import { networkAccess } from "./network-access.ts";
import { integerOption } from "./option-values.ts";
import { endProgress, note, printResult, progress, runCommand } from "./output.ts";

type Options = {
  data: string;
  link: string;
  host: string;
  port: number;
  certificate?: string;
  key?: string;
  lab?: string;
  empty: boolean;
  open: boolean;
  json: boolean;
};

/** `asfound start`: the page, on loopback unless told otherwise, with a rig behind it. */
export function addStart(program: Command): void {
  program
    .command("start")
    .description("serve the page on this machine")
    .option("--data <dir>", "data directory", "asfound-data")
    .option(
      "--link <address>",
      "the rig: serial:PATH[?baud=N] | tcp:HOST:PORT | emulated[?...]",
      "emulated?speed=20",
    )
    .option("--port <n>", "TCP port of the page, 0 for any free one", integerOption(0, 65535), 4890)
    .option(
      "--host <address>",
      "address to listen on; any but loopback opens the bench to a network, with sign-in",
      "127.0.0.1",
    )
    .option("--certificate <file>", "certificate of this host in PEM form, for any address but loopback")
    .option("--key <file>", "its secret key in PEM form")
    .option("--lab <name>", "name of the lab, for a new data directory")
    .option("--empty", "start an empty data directory without the demo lab", false)
    .option("--no-open", "do not open the page in a browser")
    .option("--json", "print one JSON document when the page is ready", false)
    .action((options: Options) => runCommand(options.json, () => start(options)));
}

async function start(options: Options): Promise<void> {
  const fresh = !existsSync(options.data) || readdirSync(options.data).length === 0;
  const demo = fresh && !options.empty && options.lab === undefined;
  const lab = openLab(options.data, { lab: options.lab ?? (demo ? demoLabName : "unnamed lab"), demo });
  const desk = new BenchDesk(lab, options.link);
  const seeding = new Seeding();
  const ending = new AbortController();
  let network: ReturnType<typeof networkAccess>;
  try {
    network = networkAccess(lab, options);
  } catch (error) {
    lab.store.close();
    throw error;
  }
  const workshop = workshopBeside(options.data);
  const app = await buildServer({
    ...{ lab, desk, seeding, workshop },
    ...(network === undefined ? {} : { network }),
  });
  await app.listen({ host: options.host, port: options.port });
  const address = app.server.address();
  const port = typeof address === "object" && address !== null ? address.port : options.port;
  const page =
    network === undefined
      ? `http://127.0.0.1:${port}/`
      : `https://${network.names[0] ?? options.host}:${port}/`;
  printResult(
    options.json,
    { page, data: options.data, link: options.link },
    () => `Asfound is ready: ${page}`,
  );
  // Only for a person at a terminal; where there is no browser the address is printed all the same.
  if (options.open && !options.json && process.stdout.isTTY) await open(page).catch(() => undefined);
  await desk.connect(options.link).catch((error: unknown) => {
    note(`No rig yet: ${error instanceof Error ? error.message : String(error)}`);
  });
  const seeded = stationOf(lab).demo
    ? seedDemoLab(
        lab,
        (view) => {
          seeding.set(view);
          if (view === null) endProgress();
          else progress(`Making the demo lab: ${view.done} of ${view.total} tests, ${view.doing}`);
        },
        ending.signal,
      ).catch((error: unknown) =>
        note(`The demo lab is unfinished: ${error instanceof Error ? error.message : String(error)}`),
      )
    : Promise.resolve();
  await new Promise<void>((resolve) => {
    process.once("SIGINT", resolve);
    process.once("SIGTERM", resolve);
  });
  // Current off first, then the rest.
  await desk.close();
  ending.abort();
  await seeded;
  await workshop.close();
  await app.close();
  lab.store.close();
}
