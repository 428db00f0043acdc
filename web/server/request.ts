import type { Problem } from "../../src/contract/http.ts";
import { createStore } from "../live/store.ts";

/** True once the server refused something because nobody is signed in any more. */
export const signInWanted = createStore(false);

/** A request that was not fulfilled, with the server's own words or, where it gave none, ours. */
export class RequestFailure extends Error {
  readonly problem: Problem;
  constructor(problem: Problem) {
    super(problem.detail);
    this.name = "RequestFailure";
    this.problem = problem;
  }
}

/**
 * Asks the server and gives the JSON that it answers.
 *
 * @throws RequestFailure if the server refuses, cannot be reached or answers something else
 */
export async function request<T>(method: "GET" | "POST" | "PUT", path: string, body?: unknown): Promise<T> {
  const { status, text } = await ask(method, path, body);
  const content = readJson(text);
  if (content === undefined) throw notUnderstood(status);
  return content as T;
}

/**
 * Asks the server for a text, such as a figure.
 *
 * @throws RequestFailure if the server refuses or cannot be reached
 */
export async function requestText(path: string): Promise<string> {
  return (await ask("GET", path)).text;
}

async function ask(method: string, path: string, body?: unknown): Promise<{ status: number; text: string }> {
  const answer = await fetchAnswer(path, {
    method,
    headers: body === undefined ? {} : { "content-type": "application/json" },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  return { status: answer.status, text: await answer.text().catch(noAnswer) };
}

/**
 * What the server answers, whatever it is, as long as it does not refuse.
 *
 * @throws RequestFailure if the server refuses or cannot be reached
 */
export async function fetchAnswer(path: string, init: RequestInit = {}): Promise<Response> {
  const answer = await fetch(path, init).catch(noAnswer);
  if (answer.ok) return answer;
  if (answer.status === 401 && path !== "/api/session") signInWanted.set(true);
  const content = readJson(await answer.text().catch(noAnswer));
  throw isProblem(content) ? new RequestFailure(content) : notUnderstood(answer.status);
}

function noAnswer(): never {
  throw new RequestFailure({
    type: "about:blank",
    title: "No answer",
    status: 0,
    detail: "The bench program did not answer. Is it still running on this computer?",
  });
}

function notUnderstood(status: number): RequestFailure {
  return new RequestFailure({
    type: "about:blank",
    title: "Not understood",
    status,
    detail: `The bench program answered in a way that this page does not understand (number ${status}). Load the page again.`,
  });
}

/** The problem behind anything that was thrown. */
export function problemOf(error: unknown): Problem {
  if (error instanceof RequestFailure) return error.problem;
  const detail = error instanceof Error ? error.message : String(error);
  return { type: "about:blank", title: "Unexpected", status: 0, detail };
}

/** What a problem says of one field, or null. Field names may come as `label`, `/label` or `body/label`. */
export function problemOfField(problem: Problem | null, field: string): string | null {
  const found = problem?.fields?.find((one) => one.field.split(/[/.]/).at(-1) === field);
  return found?.problem ?? null;
}

function readJson(text: string): unknown {
  if (text === "") return null;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isProblem(content: unknown): content is Problem {
  return typeof content === "object" && content !== null && "detail" in content && "title" in content;
}
