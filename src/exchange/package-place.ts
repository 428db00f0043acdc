import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import type { PackageFiles } from "./bag.ts";
import { pathProblem } from "./safe-path.ts";
import { packageLimits, type SizeLimits, type Unzipped, unzipFiles, zipFiles } from "./zip-files.ts";

const isZip = (path: string): boolean => path.toLowerCase().endsWith(".zip");

/**
 * Writes a package as a folder, or as a zip where the path ends in `.zip`. It is made beside its place and moved there when
 * complete, so that nothing partial is ever found under its name.
 *
 * @throws Error where the place is taken: a package is never written over another
 */
export function writePackage(place: string, files: PackageFiles): void {
  if (existsSync(place)) throw new Error(`${place} exists already; accepted is a new name`);
  const unfinished = `${place}.unfinished`;
  rmSync(unfinished, { recursive: true, force: true });
  mkdirSync(dirname(unfinished), { recursive: true });
  if (isZip(place)) writeFileSync(unfinished, zipFiles(files));
  else
    for (const [path, bytes] of files) {
      const problem = pathProblem(path);
      if (problem !== null) throw new Error(problem);
      mkdirSync(dirname(join(unfinished, path)), { recursive: true });
      writeFileSync(join(unfinished, path), bytes);
    }
  renameSync(unfinished, place);
}

/**
 * The files of a package in a folder or a zip, or why they are not read: links and special files, unsafe paths, too many or
 * too large files, and a zip that is not, byte for byte, the one that its files make.
 *
 * @throws Error where there is nothing at the place
 */
export function readPackage(place: string, limits: SizeLimits = packageLimits): Unzipped {
  if (!existsSync(place)) throw new Error(`${place} does not exist; accepted is a package's folder or zip`);
  if (lstatSync(place).isDirectory()) return readFolder(place, limits);
  const size = lstatSync(place).size;
  if (size > limits.totalBytes)
    return { ok: false, problem: `${place} has ${size} bytes; accepted are ${limits.totalBytes}` };
  const bytes = readFileSync(place);
  const unzipped = unzipFiles(bytes, limits);
  if (unzipped.ok && Buffer.compare(zipFiles(unzipped.files), bytes) !== 0)
    return {
      ok: false,
      problem: `${place} is not the zip that its files make: it was altered, or packed by another program. Unpack it and check the folder to see which`,
    };
  return unzipped;
}

function readFolder(folder: string, limits: SizeLimits): Unzipped {
  const files: PackageFiles = new Map();
  let total = 0;
  const waiting = [""];
  for (let inside = waiting.pop(); inside !== undefined; inside = waiting.pop()) {
    for (const name of readdirSync(join(folder, inside)).sort()) {
      const path = inside === "" ? name : `${inside}/${name}`;
      const problem = pathProblem(path);
      if (problem !== null) return { ok: false, problem };
      const found = lstatSync(join(folder, path));
      if (found.isDirectory()) {
        waiting.push(path);
        continue;
      }
      if (!found.isFile())
        return {
          ok: false,
          problem: `${path} is a link or a special file; a package holds plain files only`,
        };
      total += found.size;
      if (found.size > limits.fileBytes || total > limits.totalBytes || files.size >= limits.files)
        return {
          ok: false,
          problem: `${path} has ${found.size} bytes, the package ${total} in more than ${files.size} files; accepted are ${limits.fileBytes}, ${limits.totalBytes} and ${limits.files}`,
        };
      files.set(path, readFileSync(join(folder, path)));
    }
  }
  return { ok: true, files };
}
