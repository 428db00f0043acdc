import { describe, expect, it } from "vitest";
import { InputError } from "../../src/lab/input-error.ts";
import { NotFoundError } from "../../src/lab/not-found-error.ts";
import { errorTold, toldError } from "../../src/lab/workshop-error.ts";
import { StoreError } from "../../src/store/store-error.ts";

describe("an error of another thread", () => {
  it.each([
    new InputError("found 3; accepted is 2", [{ field: "poles", problem: "found 3" }]),
    new InputError("found nothing"),
    new NotFoundError("there is no specimen X"),
    new StoreError("key", "the key is missing"),
    new Error("something else"),
  ])("comes back as what it was: %s", (error) => {
    // As plain data, which is what a thread can send.
    const back = errorTold(structuredClone(toldError(error)));
    expect(back).toBeInstanceOf(error.constructor);
    expect(back.message).toBe(error.message);
    if (error instanceof InputError) expect(back).toMatchObject({ fields: error.fields });
    if (error instanceof StoreError) expect(back).toMatchObject({ code: error.code });
  });

  it("keeps the words of an error of an unknown class, and of what is no error", () => {
    expect(errorTold(toldError(new RangeError("out of range")))).toEqual(new Error("out of range"));
    expect(errorTold(toldError("a word"))).toEqual(new Error("a word"));
  });
});
