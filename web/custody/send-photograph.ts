import type { PhotographView } from "../../src/contract/photograph-schema.ts";
import { fetchAnswer } from "../server/request.ts";
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
  const answer = await fetchAnswer(`/api/photographs?${query(told)}`, {
    method: "POST",
    headers: { "content-type": "application/octet-stream" },
    body: file,
  });
  return (await answer.json()) as PhotographView;
}
