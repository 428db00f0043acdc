import { crc32 } from "node:zlib";
import type { PictureForm } from "./photographs-picture.ts";

const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

/** Chunks without which the picture would look different; all others hold words, times, places or are of no use here. */
const pictureChunks: ReadonlySet<string> = new Set([
  "IHDR",
  "PLTE",
  "IDAT",
  "IEND",
  "tRNS",
  "gAMA",
  "cHRM",
  "sRGB",
  "sBIT",
  "bKGD",
]);

/** Whether bytes begin as a PNG does. */
export const beginsAsPng = (bytes: Uint8Array): boolean => signature.every((byte, at) => bytes[at] === byte);

/**
 * Walks the chunks of a PNG: every length and checksum, IHDR first, pixels there, IEND last.
 *
 * Source: ISO/IEC 15948:2004, sections 5.2 to 5.6.
 *
 * @throws RangeError saying where the bytes are no PNG
 */
export function readPng(bytes: Uint8Array): PictureForm {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const parts: PictureForm["parts"] = [];
  let place = signature.length;
  let size = { width: 0, height: 0 };
  let pixels = 0;
  for (;;) {
    if (place + 12 > bytes.length) throw new RangeError(`it is cut off at byte ${place}`);
    const length = view.getUint32(place);
    const name = String.fromCharCode(...bytes.subarray(place + 4, place + 8));
    const end = place + 12 + length;
    if (!/^[A-Za-z]{4}$/.test(name)) throw new RangeError(`byte ${place + 4} begins no chunk`);
    if (end > bytes.length) throw new RangeError(`its chunk ${name} at byte ${place} is cut off`);
    if (crc32(bytes.subarray(place + 4, end - 4)) !== view.getUint32(end - 4))
      throw new RangeError(`the checksum of its chunk ${name} at byte ${place} does not match`);
    if ((parts.length === 0) !== (name === "IHDR")) throw new RangeError("IHDR is not its first chunk");
    if (name === "IHDR") {
      if (length !== 13) throw new RangeError(`its IHDR has ${length} bytes; accepted are 13`);
      size = { width: view.getUint32(place + 8), height: view.getUint32(place + 12) };
    }
    if (name === "IDAT") pixels += length;
    parts.push({ name, from: place, to: end, isPicture: pictureChunks.has(name) });
    place = end;
    if (name === "IEND") break;
  }
  if (pixels === 0) throw new RangeError("it has no pixels");
  const known = parts.every(({ name, isPicture }) => isPicture || /^[a-z]/.test(name));
  if (!known) throw new RangeError("it has a critical chunk that is not of the standard");
  return { mediaType: "image/png", ...size, head: signature.length, parts, extra: bytes.length - place };
}
