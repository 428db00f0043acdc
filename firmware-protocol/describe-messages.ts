import { lineFaults } from "./codec/line-faults.ts";
import { identification } from "./identification.ts";
import {
  type FieldDescription,
  longestLineBytes,
  type MessageDescription,
  messages,
  protocolVersion,
} from "./messages.ts";
import { rigStates, rigSteps, rigTriggers } from "./rig-states.ts";

const described: Readonly<Record<string, MessageDescription>> = messages;

/** The text of messages.json: the description as data, for firmware and hosts in other languages. */
export function messagesJson(): string {
  const description = {
    about:
      "The wire between a host and a rig, version below. Generated from messages.ts, identification.ts and " +
      "rig-states.ts; explained in SPECIFICATION.md.",
    protocolVersion,
    longestLineBytes,
    lineFaults,
    messages,
    identification,
    rigStates,
    rigTriggers,
    rigSteps,
  };
  return `${JSON.stringify(description, null, 2)}\n`;
}

/** The generated parts of SPECIFICATION.md, by the name that its markers bear. */
export function specificationParts(): Readonly<Record<string, string>> {
  return {
    "messages of the host": messageTables("host"),
    "messages of the rig": messageTables("rig"),
    identification: table(
      ["item", "value", "unit", "meaning"],
      Object.entries(identification).map(([item, { form, unit, about }]) => [
        `\`${item}\``,
        form,
        unit,
        about,
      ]),
    ),
    states: table(["state", "meaning"], Object.entries(rigStates)),
    triggers: table(["trigger", "meaning"], Object.entries(rigTriggers)),
    steps: stepTable(),
  };
}

function messageTables(from: "host" | "rig"): string {
  return Object.entries(described)
    .filter(([, message]) => message.from === from)
    .map(([verb, message]) => messageTable(verb, message))
    .join("\n\n");
}

function messageTable(verb: string, { about, fields, values }: MessageDescription): string {
  const rows = Object.entries(fields).map(([name, field]) => [
    `\`${name}\``,
    ...fieldCells(field),
    presenceCell(field),
    field.about,
  ]);
  if (values !== undefined)
    rows.push([
      "_values_",
      `integer ${values.min} to ${values.max}`,
      values.unit,
      "one or more",
      values.about,
    ]);
  const head = `#### ${verb}\n\n${capital(about)}.`;
  if (rows.length === 0) return `${head} No fields.`;
  return `${head}\n\n${table(["field", "value", "unit", "present", "meaning"], rows)}`;
}

function fieldCells(field: FieldDescription): [string, string] {
  switch (field.type) {
    case "integer":
      return [`integer ${field.min} to ${field.max}`, field.unit];
    case "choice":
      return [field.of.map((word) => `\`${word}\``).join(", "), ""];
    case "hex":
      return [`${field.digits} hexadecimal digits`, ""];
    case "text":
      return ["text", ""];
  }
}

function presenceCell({ optional, when }: FieldDescription): string {
  const usual = optional === true && when?.presence !== "required" ? "may be absent" : "always";
  return when === undefined ? usual : `${usual} with \`${when.field}=${when.is}\`, never otherwise`;
}

function stepTable(): string {
  const states = Object.keys(rigStates) as (keyof typeof rigStates)[];
  return table(
    ["when", ...states.map((state) => `in ${state}`)],
    Object.entries(rigSteps).map(([trigger, steps]) => [
      trigger,
      ...states.map((state) => {
        const step = steps[state];
        if (step === null) return "cannot be";
        const goes = step.to === state ? "stays" : `**${step.to}**`;
        return [goes, ...step.says.map((said) => said.replaceAll("|", " or "))].join("; ");
      }),
    ]),
  );
}

/** A Markdown table whose columns are padded to one width, as the formatter of this project writes them. */
function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = head.map((_, column) =>
    Math.max(...[head, ...rows].map((cells) => cells[column]?.length ?? 0)),
  );
  const line = (cells: readonly string[], fill: string) =>
    `| ${cells.map((cell, column) => cell.padEnd(widths[column] ?? 0, fill)).join(" | ")} |`;
  return [
    line(head, " "),
    line(
      head.map(() => ""),
      "-",
    ),
    ...rows.map((cells) => line(cells, " ")),
  ].join("\n");
}

function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}
