import type { Problem } from "../../src/contract/http.ts";
import type { PhotographView } from "../../src/contract/photograph-schema.ts";
import { RequestFailure } from "../server/request.ts";
import { query } from "../server/resources.ts";

/**
 * Sends a photograph as the bytes it has, with what is told of it.
 *
 * @throws RequestFailure if the server refuses or cannot be reached
 */
export async function sendPhotograph(
  file: Blob,
  told: Readonly<Record<string, string | null>>,
): Promise<PhotographView> {
  let answer: Response;
  try {
    answer = await fetch(`/api/photographs?${query(told)}`, {
      method: "POST",
      headers: { "content-type": "application/octet-stream" },
      body: file,
    });
  } catch {
    throw new RequestFailure({
      type: "about:blank",
      title: "No answer",
      status: 0,
      detail: "The photograph could not be sent. Is the bench program still running on this computer?",
    });
  }
  const content = (await answer.json()) as PhotographView | Problem;
  if (!answer.ok) throw new RequestFailure(content as Problem);
  return content as PhotographView;
}
