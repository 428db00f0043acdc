import Type from "typebox";

const controlFree = "[^\\u0000-\\u0008\\u000b\\u000c\\u000e-\\u001f]";

/** Text of one line that is not empty. */
export const words = (description: string, maxLength = 200) =>
  Type.String({
    minLength: 1,
    maxLength,
    pattern: "^[^\\u0000-\\u001f]*\\S[^\\u0000-\\u001f]*$",
    description,
  });

/** Text that may be empty and may have several lines. */
export const prose = (description: string, maxLength = 4000) =>
  Type.String({ maxLength, pattern: `^${controlFree}*$`, description });

/** A name that is safe wherever it is used: no path separators, no control characters, not a dot or two. */
export const plainName = (description: string, maxLength = 200) =>
  Type.String({
    minLength: 1,
    maxLength,
    pattern: "^(?!\\.{1,2}$)(?=.*\\S)[^/\\\\\\u0000-\\u001f]+$",
    description: `${description}, without / and \\`,
  });

/** A day, YYYY-MM-DD. Whether it exists is checked where it is used. */
export const day = (description: string) =>
  Type.String({ pattern: "^\\d{4}-\\d{2}-\\d{2}$", description: `${description}, YYYY-MM-DD` });

/** A moment with its zone. */
export const moment = (description: string) =>
  Type.String({
    pattern: "^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}(:\\d{2}(\\.\\d{1,3})?)?(Z|[+-]\\d{2}:\\d{2})$",
    description: `${description}, such as 2026-06-15T09:30:00Z or 2026-06-15T11:30:00+02:00`,
  });

/** Who makes the entry. */
export const person = words("who makes this entry, by name", 100);

/** True where two types are one; a line that asks for it does not compile when they part. */
export type Same<A, B> = [A] extends [B] ? ([B] extends [A] ? true : never) : never;
