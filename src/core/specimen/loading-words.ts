import type { Loading } from "./specimen.ts";

/** Which poles carry the current, in words. */
export function loadingWords(loading: Loading): string {
  return loading === "all" ? "all poles in series" : `pole ${loading.slice(-1)} alone`;
}
