import type { Problem } from "../../src/contract/http.ts";
import { RequestFailure } from "../server/request.ts";

/** A file that the server made, kept in memory under an address of its own, with its SHA-256. */
export interface MadeFile {
  address: string;
  name: string;
  bytes: number;
  hash: string;
}

/**
 * Has the server make a file, under the name that the server gives it, else under `name`. The address must be given back with `URL.revokeObjectURL`.
 *
 * @throws RequestFailure if the server refuses or cannot be reached
 */
export async function fetchFile(path: string, name: string): Promise<MadeFile> {
  let answer: Response;
  try {
    answer = await fetch(path);
  } catch {
    throw new RequestFailure({
      type: "about:blank",
      title: "No answer",
      status: 0,
      detail: "The bench program did not answer. Is it still running on this computer?",
    });
  }
  if (!answer.ok) throw new RequestFailure((await answer.json()) as Problem);
  const file = await answer.blob();
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await file.arrayBuffer()));
  return {
    address: URL.createObjectURL(file),
    name: /filename="([^"]+)"/.exec(answer.headers.get("content-disposition") ?? "")?.[1] ?? name,
    bytes: file.size,
    hash: [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join(""),
  };
}

/** A name for a file that any disk accepts. */
export function fileName(text: string): string {
  return text.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "unnamed";
}
