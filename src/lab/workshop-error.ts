import { StoreError, type StoreErrorCode } from "../store/store-error.ts";
import { InputError } from "./input-error.ts";
import { NotFoundError } from "./not-found-error.ts";

/** An error as plain data: another thread gets errors without their class and fields. */
export interface ToldError {
  name: string;
  message: string;
  fields?: InputError["fields"];
  code?: StoreErrorCode;
}

/** What another thread must be told of an error, so that it can be thrown there. */
export function toldError(error: unknown): ToldError {
  if (!(error instanceof Error)) return { name: "Error", message: String(error) };
  const { name, message } = error;
  if (error instanceof InputError) return { name, message, fields: error.fields };
  if (error instanceof StoreError) return { name, message, code: error.code };
  return { name, message };
}

/** The error that was told, of the class that it had. */
export function errorTold({ name, message, fields, code }: ToldError): Error {
  if (name === "InputError") return new InputError(message, fields);
  if (name === "NotFoundError") return new NotFoundError(message);
  if (name === "StoreError" && code !== undefined) return new StoreError(code, message);
  return new Error(message);
}
