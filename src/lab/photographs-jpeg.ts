import type { PictureForm } from "./photographs-picture.ts";

/** Frame headers: SOF0 to SOF15 without DHT (C4), JPG (C8) and DAC (CC). */
const isFrame = (code: number): boolean =>
  code >= 0xc0 && code <= 0xcf && code !== 0xc4 && code !== 0xc8 && code !== 0xcc;

/** Tables, frame, scans and what belongs to them; application segments (E0 to EF) and comments (FE) are not among them. */
const isPicture = (code: number): boolean =>
  isFrame(code) || code === 0xc4 || code === 0xcc || (code >= 0xda && code <= 0xdf);

const hex = (code: number): string => code.toString(16).toUpperCase().padStart(2, "0");

/** Whether bytes begin as a JPEG does. */
export const beginsAsJpeg = (bytes: Uint8Array): boolean =>
  bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff;

/**
 * Walks the segments of a JPEG: every length, one frame with a size, at least one scan with data, EOI at the end of it.
 *
 * The segment "Adobe" (EE) says how colours are coded and holds nothing else in its 12 bytes: without it some pictures come out
 * in false colours, so it counts as picture.
 *
 * Source: ITU-T T.81 (1992), annex B; for "Adobe" ITU-T T.872 (2012), 6.5.3.
 *
 * @throws RangeError saying where the bytes are no JPEG
 */
export function readJpeg(bytes: Uint8Array): PictureForm {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const parts: PictureForm["parts"] = [];
  let size: { width: number; height: number } | null = null;
  let scans = 0;
  let place = 2;
  for (;;) {
    const from = place;
    if (bytes[place] !== 0xff) throw new RangeError(`byte ${place} begins no segment`);
    while (bytes[place] === 0xff) place += 1;
    const code = bytes[place];
    if (code === undefined) throw new RangeError(`it is cut off at byte ${from}`);
    place += 1;
    if (code === 0xd9) {
      parts.push({ name: "D9", from, to: place, isPicture: true });
      break;
    }
    if (code < 0xc0 || (code >= 0xd0 && code <= 0xd8))
      throw new RangeError(`byte ${from} begins the segment ${hex(code)}, which cannot stand there`);
    if (place + 2 > bytes.length) throw new RangeError(`it is cut off at byte ${from}`);
    const length = view.getUint16(place);
    let end = place + length;
    if (length < 2 || end > bytes.length)
      throw new RangeError(`its segment ${hex(code)} at byte ${from} is cut off`);
    if (isFrame(code)) {
      if (length < 8 || size !== null) throw new RangeError(`its frame at byte ${from} cannot be`);
      size = { height: view.getUint16(place + 3), width: view.getUint16(place + 5) };
    }
    if (code === 0xda) {
      if (size === null) throw new RangeError("its first scan comes before its frame");
      const data = end;
      end = endOfScan(bytes, end);
      if (end === data) throw new RangeError(`its scan at byte ${from} has no data`);
      scans += 1;
    }
    const keep = isPicture(code) || (code === 0xee && isAdobe(bytes, place, length));
    parts.push({ name: hex(code), from, to: end, isPicture: keep });
    place = end;
  }
  if (size === null || scans === 0) throw new RangeError("it has no pixels");
  return { mediaType: "image/jpeg", ...size, head: 2, parts, extra: bytes.length - place };
}

const isAdobe = (bytes: Uint8Array, place: number, length: number): boolean =>
  length === 14 && String.fromCharCode(...bytes.subarray(place + 2, place + 7)) === "Adobe";

/** Where the data of a scan ends: at a marker that is neither a stuffed byte (FF 00) nor a restart (FF D0 to FF D7). */
function endOfScan(bytes: Uint8Array, from: number): number {
  for (let place = bytes.indexOf(0xff, from); place !== -1; place = bytes.indexOf(0xff, place + 1)) {
    const next = bytes[place + 1];
    if (next === undefined) break;
    if (next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return place;
  }
  throw new RangeError(`it is cut off: its scan at byte ${from} has no end`);
}
