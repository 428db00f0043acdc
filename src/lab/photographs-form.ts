import { largestPhotographBytes } from "../contract/photograph-schema.ts";
import { InputError } from "./input-error.ts";
import { beginsAsJpeg, readJpeg } from "./photographs-jpeg.ts";
import type { PictureForm } from "./photographs-picture.ts";
import { beginsAsPng, readPng } from "./photographs-png.ts";

/** More pixels than this in one direction are refused: no camera makes them, and a reader must make room for them. */
const mostPixels = 30_000;

/**
 * What kind of picture bytes are, by the bytes alone.
 *
 * @throws InputError for what is too large, neither PNG nor JPEG, damaged or cut off, or of an impossible size
 */
export function pictureForm(bytes: Uint8Array, where: string): PictureForm {
  refuseSize(bytes.length, where);
  const read = beginsAsPng(bytes) ? readPng : beginsAsJpeg(bytes) ? readJpeg : null;
  if (read === null)
    throw new InputError(
      `${where}: is not a picture: its bytes begin as neither PNG nor JPEG, which are accepted`,
    );
  const kind = read === readPng ? "PNG" : "JPEG";
  let form: PictureForm;
  try {
    form = read(bytes);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new InputError(`${where}: begins as a ${kind} and is none: ${error.message}`);
  }
  const { width, height } = form;
  if (!(width >= 1 && height >= 1 && width <= mostPixels && height <= mostPixels))
    throw new InputError(
      `${where}: has ${width} by ${height} pixels; accepted are 1 to ${mostPixels} in each direction`,
    );
  return form;
}

/** @throws InputError for a file that is empty or too large; to be asked before its bytes are read */
export function refuseSize(bytes: number, where: string): void {
  if (bytes === 0) throw new InputError(`${where}: is empty`);
  if (bytes > largestPhotographBytes)
    throw new InputError(`${where}: has ${bytes} bytes; accepted are ${largestPhotographBytes}`);
}
