/** What was named does not exist in this lab; the message says what was looked for. */
export class NotFoundError extends Error {
  override readonly name = "NotFoundError";
}
