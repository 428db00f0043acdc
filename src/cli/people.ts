import type { Command } from "commander";
import { type PersonView, roles, roleWords } from "../contract/people-schema.ts";
import { giveRoles, peopleOf } from "../lab/people.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readPassword } from "./read-password.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type Options = { data: string; json: boolean };
type Giving = Options & {
  roles: string;
  password: boolean;
  passwordFile?: string;
  why: string;
  by: string;
};

/** `asfound people list | give`: who may sign in, and what for. */
export function addPeople(program: Command): void {
  const command = program
    .command("people")
    .description("who may sign in to the page, and what for; from the first person on, everybody must");
  command
    .command("list")
    .description("everybody known to the lab, with roles")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: Options) =>
      runCommand(json, () => {
        const people = readingFrom(data, peopleOf);
        printResult(json, { people }, () =>
          people.length === 0
            ? "Nobody yet: the page of this machine asks for no sign-in, and names are typed."
            : textTable([["person", "roles", "given by", "at"], ...people.map(personRow)]),
        );
      }),
    );
  command
    .command("give")
    .description("give a person roles, in place of those before")
    .argument("<person>", "full name")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption(
      "--roles <list>",
      `separated by commas, "none" to shut out: ${roles.map((role) => `${role} (${roleWords[role]})`).join("; ")}`,
    )
    .option("--password", "set a password too: it is asked for, or read from what is piped in", false)
    .option("--password-file <file>", "set a password too: the first line of this file")
    .option("--why <text>", "why", "")
    .requiredOption("--by <name>", "who makes this entry")
    .option("--json", "print one JSON document", false)
    .action((person: string, { data, json, why, by, ...more }: Giving) =>
      runCommand(json, async () => {
        const named = more.roles.split(",").map((one) => one.trim());
        const password =
          more.password || more.passwordFile !== undefined
            ? await readPassword(`Password of ${person}: `, more.passwordFile)
            : undefined;
        const input = {
          ...{ person, why, by, roles: named.length === 1 && named[0] === "none" ? [] : named },
          ...(password === undefined ? {} : { password }),
        };
        const view = await writingTo(data, (lab) => giveRoles(lab, input, "people"));
        printResult(json, view, () => textTable([["person", "roles", "given by", "at"], personRow(view)]));
      }),
    );
}

const personRow = ({ person, roles: given, by, at }: PersonView): string[] => [
  person,
  given.join(", ") || "none: shut out",
  by,
  at,
];
