import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const program = resolve(import.meta.dirname, "../../dist/src/cli/asfound.js");

/** What one run of the program left: its exit code, the JSON document on stdout where there is one, and both streams. */
export interface Run {
  code: number;
  // biome-ignore lint/suspicious/noExplicitAny: what the document holds is what the tests assert
  document: any;
  stdout: string;
  stderr: string;
}

/** Runs the built program to its end. */
export async function asfound(args: readonly string[], input = ""): Promise<Run> {
  const child = spawn(process.execPath, [program, ...args], { stdio: "pipe" });
  child.stdin.end(input);
  return finished(child);
}

/** Starts the built program and leaves it running. */
export function startAsfound(args: readonly string[]): ChildProcess {
  return spawn(process.execPath, [program, ...args], { stdio: "pipe" });
}

/** Waits until a started program prints its first JSON document. */
// biome-ignore lint/suspicious/noExplicitAny: as above
export function firstDocument(child: ChildProcess): Promise<any> {
  return new Promise((settle, fail) => {
    let text = "";
    child.stdout?.setEncoding("utf8").on("data", (piece: string) => {
      text += piece;
      if (!text.trimEnd().endsWith("}")) return;
      try {
        settle(JSON.parse(text));
      } catch {
        // Not whole yet.
      }
    });
    child.once("exit", (code) => fail(new Error(`ended with ${code} after printing: ${text}`)));
  });
}

/** Waits for the end of a started program. */
export function finished(child: ChildProcess): Promise<Run> {
  return new Promise((settle, fail) => {
    let stdout = "";
    let stderr = "";
    child.stdout?.setEncoding("utf8").on("data", (piece: string) => {
      stdout += piece;
    });
    child.stderr?.setEncoding("utf8").on("data", (piece: string) => {
      stderr += piece;
    });
    child.once("error", fail);
    child.once("close", (code) => {
      let document: unknown = null;
      try {
        document = JSON.parse(stdout);
      } catch {
        // Human output.
      }
      settle({ code: code ?? -1, document, stdout, stderr });
    });
  });
}

/** A folder of its own for one test, and a specimen file in it. */
export function workplace(specimen: object = { label: "A-1", ratedAmps: 20, poles: 1, volts: 120 }) {
  const folder = mkdtempSync(join(tmpdir(), "asfound-test-"));
  const specimenFile = join(folder, "specimen.json");
  writeFileSync(specimenFile, JSON.stringify(specimen));
  return {
    folder,
    data: join(folder, "data"),
    specimenFile,
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** Whether a tool, or a library of Java, is there. Where it must be (ASFOUND_NO_SKIPS=1) its absence is an error, else it is told loudly. */
export function toolIsThere(name: string): boolean {
  const found = ["/usr/bin", "/usr/local/bin", "/bin", "/usr/share/java"].some((folder) =>
    existsSync(join(folder, name)),
  );
  if (!found && process.env.ASFOUND_NO_SKIPS === "1") throw new Error(`${name} is needed and not there`);
  if (!found) process.stderr.write(`\nSKIPPED for want of ${name}\n`);
  return found;
}

/** Output of a tool of the machine. */
export const tool = (name: string, args: readonly string[]) => execFileSync(name, args, { encoding: "utf8" });
