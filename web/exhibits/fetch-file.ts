import { fetchAnswer } from "../server/request.ts";

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
  const answer = await fetchAnswer(path);
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
