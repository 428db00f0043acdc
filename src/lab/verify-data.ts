import { openStore } from "../store/open-store.ts";
import { type StoreCheck, verifyStore } from "../store/verify-store.ts";
import { timeStampProblems } from "./time-stamps.ts";

/**
 * Checks everything in a data directory without changing it: what the store checks, and that each time stamp is over the
 * statement that it claims. Never throws for what it finds on the disk.
 */
export function verifyData(dataDir: string, options: { knownHead?: string } = {}): StoreCheck {
  const found = verifyStore(dataDir, options);
  const problems = [...found.problems, ...stampProblems(dataDir, found.ok)];
  return { ...found, ok: problems.length === 0, problems };
}

function stampProblems(dataDir: string, sound: boolean): string[] {
  try {
    const store = openStore(dataDir, { readOnly: true });
    try {
      return timeStampProblems({ store });
    } finally {
      store.close();
    }
  } catch (error) {
    // A store that is damaged has been told of already.
    return sound ? [`the time stamps cannot be checked: ${(error as Error).message}`] : [];
  }
}
