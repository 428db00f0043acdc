import { unzipSync, zipSync } from "fflate";
import type { PackageFiles } from "./bag.ts";
import { pathProblem } from "./safe-path.ts";

/** More than this is refused before anything is unpacked. */
export interface SizeLimits {
  files: number;
  fileBytes: number;
  totalBytes: number;
}

export const packageLimits: SizeLimits = { files: 20_000, fileBytes: 512e6, totalBytes: 1.5e9 };

/** The first day that a zip can name: no clock of the machine enters the bytes. */
const fixedDate = new Date(1980, 0, 1);

/** A zip of the files in order of path. The same files give the same bytes. */
export function zipFiles(files: PackageFiles): Uint8Array {
  const sorted = [...files].sort(([a], [b]) => (a < b ? -1 : 1));
  return zipSync(Object.fromEntries(sorted), { level: 6, mtime: fixedDate, os: 3 });
}

/** The files of a zip, or why they are not taken out. */
export type Unzipped = { ok: true; files: PackageFiles } | { ok: false; problem: string };

/**
 * Takes the files out of a zip, in memory. Refused are paths that leave the folder or mean different things on different
 * systems, a path that appears twice, too many files and files that are too large, before any is unpacked. Checksums are not
 * looked at: whoever packed them twice compares the bytes of the whole zip instead, see package-place.ts.
 */
export function unzipFiles(bytes: Uint8Array, limits: SizeLimits = packageLimits): Unzipped {
  const seen = new Map<string, number>();
  let total = 0;
  let problem: string | null = null;
  const inspect = ({ name, originalSize }: { name: string; originalSize: number }): boolean => {
    // Some programs write folders as entries that end in a slash.
    if (name.endsWith("/") && originalSize === 0) return false;
    total += originalSize;
    problem ??=
      pathProblem(name) ??
      (seen.has(name) ? `the path "${name}" appears twice` : null) ??
      (seen.size >= limits.files ? `it has more than ${limits.files} files` : null) ??
      (originalSize > limits.fileBytes || total > limits.totalBytes
        ? `"${name}" would unpack to ${originalSize} bytes, ${total} in all; accepted are ${limits.fileBytes} and ${limits.totalBytes}`
        : null);
    seen.set(name, originalSize);
    return false;
  };
  try {
    unzipSync(bytes, { filter: inspect });
    if (problem !== null) return { ok: false, problem };
    const files: PackageFiles = new Map(
      Object.entries(unzipSync(bytes, { filter: ({ name }) => seen.has(name) })),
    );
    for (const [path, size] of seen)
      if (files.get(path)?.length !== size)
        return { ok: false, problem: `"${path}" does not unpack to the ${size} bytes that it states` };
    return { ok: true, files };
  } catch (error) {
    return { ok: false, problem: `not a readable zip: ${(error as Error).message}` };
  }
}
