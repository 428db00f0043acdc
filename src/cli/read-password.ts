import { readFileSync } from "node:fs";
import { createInterface } from "node:readline/promises";
import { Writable } from "node:stream";
import { InputError } from "../lab/input-error.ts";

/**
 * A password: the first line of a file where one is named, else typed unseen at a terminal, else the first line of what is piped in.
 * Never an argument, which everyone on the machine could read.
 *
 * @throws InputError where there is none
 */
export async function readPassword(question: string, file: string | undefined): Promise<string> {
  const password =
    file !== undefined
      ? firstLine(readFileSync(file, "utf8"))
      : process.stdin.isTTY
        ? await typedUnseen(question)
        : firstLine(readFileSync(0, "utf8"));
  if (password === "")
    throw new InputError("found no password; accepted is its line, typed, piped in or in --password-file");
  return password;
}

const firstLine = (text: string): string => text.split(/\r?\n/, 1)[0] ?? "";

async function typedUnseen(question: string): Promise<string> {
  process.stderr.write(question);
  const unseen = new Writable({ write: (_chunk, _encoding, done) => done() });
  const line = createInterface({ input: process.stdin, output: unseen, terminal: true });
  try {
    return await line.question("");
  } finally {
    line.close();
    process.stderr.write("\n");
  }
}
