import type Type from "typebox";
import { Value } from "typebox/value";
import { InputError } from "./input-error.ts";

/**
 * Checks what claims to be of a schema. `where` names the file or form for the message.
 *
 * @throws InputError naming every field that is wrong, with what was found and what is accepted
 */
export function checkAgainstSchema<S extends Type.TSchema>(
  schema: S,
  value: unknown,
  where: string,
): Type.Static<S> {
  if (Value.Check(schema, value)) return value;
  const fields: { field: string; problem: string }[] = [];
  const tell = (field: string, problem: string) => {
    if (!fields.some((one) => one.field === field)) fields.push({ field, problem });
  };
  for (const error of Value.Errors(schema, value)) {
    const place = error.instancePath.slice(1).replaceAll("/", ".");
    const within = (name: string) => (place === "" ? name : `${place}.${name}`);
    const named = error.params as {
      requiredProperties?: string[];
      additionalProperties?: string[];
      allowedValues?: unknown[];
    };
    for (const name of named.requiredProperties ?? []) {
      const about = at(schema, [...place.split("."), name])?.description;
      tell(within(name), `is missing${about === undefined ? "" : `; needed: ${about}`}`);
    }
    for (const name of named.additionalProperties ?? []) {
      const accepted = Object.keys(at(schema, place.split("."))?.properties ?? {});
      tell(within(name), `is not known here; accepted: ${accepted.join(", ")}`);
    }
    // An unknown field is told once, by the object's own error.
    if (named.requiredProperties !== undefined || named.additionalProperties !== undefined) continue;
    if (error.keyword === "boolean") continue;
    const about = at(schema, place.split("."));
    // A choice is told whole, not member by member.
    if (error.keyword === "const") continue;
    const choices =
      named.allowedValues ?? about?.enum ?? about?.anyOf?.map((one) => JSON.stringify(one.const));
    const rule = choices === undefined ? error.message : `must be one of ${choices.join(", ")}`;
    const found = JSON.stringify(valueAt(value, place.split(".")));
    const described = about?.description === undefined ? "" : `; needed: ${about.description}`;
    tell(
      place || "the whole",
      `${rule}${found === undefined ? "" : `, found ${found.slice(0, 80)}`}${described}`,
    );
  }
  const words = fields.map((one) => `${one.field} ${one.problem}`).join("; ");
  throw new InputError(`${where}: ${words || "an object is expected"}`, fields);
}

type Described = {
  description?: string;
  enum?: unknown[];
  properties?: Readonly<Record<string, Described>>;
  items?: Described;
  anyOf?: { const?: unknown }[];
};

/** The part of a schema that speaks of a place in a value. */
function at(schema: Type.TSchema, path: readonly string[]): Described | undefined {
  let part: Described | undefined = schema as Described;
  for (const step of path) if (step !== "") part = part?.properties?.[step] ?? part?.items;
  return part;
}

function valueAt(value: unknown, path: readonly string[]): unknown {
  let part: unknown = value;
  for (const step of path) {
    if (step !== "") part = (part as Readonly<Record<string, unknown>> | null | undefined)?.[step];
  }
  return part;
}
