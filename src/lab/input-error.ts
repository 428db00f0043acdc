/** What a person asked for cannot be done: the message says what was found, where, and what is accepted. Nothing was stored. */
export class InputError extends Error {
  override readonly name = "InputError";
  /** Fields that were wrong, where the input had fields. */
  readonly fields: readonly { field: string; problem: string }[];

  constructor(message: string, fields: readonly { field: string; problem: string }[] = []) {
    super(message);
    this.fields = fields;
  }
}
