import { sha256HexOfParts } from "./sha256-hex.ts";

/**
 * Hash over all blocks of a shot in their order: SHA-256 over, for each block, one byte of kind, four bytes of the payload's
 * length (big-endian), and the payload. A shot without blocks has the SHA-256 of nothing. 64 lower-case hex digits.
 *
 * What the kinds mean and how payloads are laid out: src/store/sample-blocks.ts.
 *
 * @throws RangeError if a kind does not fit in a byte or a payload is 4 GiB or more
 */
export function blocksHash(blocks: Iterable<{ kind: number; payload: Uint8Array }>): string {
  return sha256HexOfParts(framed(blocks));
}

function* framed(blocks: Iterable<{ kind: number; payload: Uint8Array }>): Generator<Uint8Array> {
  for (const { kind, payload } of blocks) {
    if (!Number.isInteger(kind) || kind < 0 || kind > 255)
      throw new RangeError(`block kind ${kind} is not a byte`);
    if (payload.length > 0xffffffff)
      throw new RangeError(`block payload of ${payload.length} bytes is too long`);
    const frame = new Uint8Array(5);
    const view = new DataView(frame.buffer);
    view.setUint8(0, kind);
    view.setUint32(1, payload.length);
    yield frame;
    yield payload;
  }
}
