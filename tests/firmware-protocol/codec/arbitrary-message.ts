import fc from "fast-check";
import {
  type FieldDescription,
  type Message,
  type MessageDescription,
  messages,
} from "../../../firmware-protocol/messages.ts";

function arbitraryField(field: FieldDescription): fc.Arbitrary<string | number> {
  switch (field.type) {
    case "integer":
      return fc.oneof(
        fc.constantFrom(field.min, field.max),
        fc.maxSafeInteger().map((n) => field.min + (Math.abs(n) % (field.max - field.min + 1))),
      );
    case "choice":
      return fc.constantFrom(...field.of);
    case "hex":
      return fc.string({
        unit: fc.constantFrom(..."0123456789ABCDEF"),
        minLength: field.digits,
        maxLength: field.digits,
      });
    case "text":
      // Five characters of four bytes each, all escaped, still fit in every line.
      return fc.oneof(fc.string({ unit: "binary", maxLength: 5 }), fc.string({ maxLength: 15 }));
  }
}

/** Any message that the description allows and that fits in a line, whoever says it. */
export function arbitraryMessage(verb: Message["verb"]): fc.Arbitrary<Message> {
  const description: MessageDescription = messages[verb];
  const fields = Object.entries(description.fields);
  const record = Object.fromEntries(
    fields.map(([name, field]) => [
      name,
      field.optional === true && field.when?.presence !== "required"
        ? fc.option(arbitraryField(field), { nil: undefined, freq: 2 })
        : arbitraryField(field),
    ]),
  );
  const list = description.values;
  const values =
    list === undefined
      ? fc.constant(undefined)
      : fc.array(
          fc.oneof(fc.integer({ min: list.min, max: list.max }), fc.constantFrom(0, list.min, list.max)),
          {
            minLength: 1,
            maxLength: 3,
          },
        );
  return fc.tuple(fc.record(record), values).map(([given, list]) => {
    const message: Record<string, unknown> = { verb };
    for (const [name, { when }] of fields) {
      const placed = when === undefined || message[when.field] === when.is;
      if (placed && given[name] !== undefined) message[name] = given[name];
    }
    if (list !== undefined) message.values = list;
    return message as Message;
  });
}

/** Any message of the wire. */
export const anyMessage: fc.Arbitrary<Message> = fc.oneof(
  ...(Object.keys(messages) as Message["verb"][]).map(arbitraryMessage),
);

/** Any sequence number. */
export const anySequence: fc.Arbitrary<number> = fc.integer({ min: 0, max: 65_535 });
