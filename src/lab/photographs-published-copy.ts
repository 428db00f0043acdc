import { pictureForm } from "./photographs-form.ts";

/**
 * A photograph as it may be published: the same pixels and nothing else. Every segment that holds words, times, places, previews
 * or what the camera says of itself is left out, as is whatever follows the picture. The direction in which the camera was
 * held is among what is left out: a picture may have to be turned by hand.
 *
 * @throws InputError where the bytes are no picture
 */
export function publishedCopy(bytes: Uint8Array, where: string): Uint8Array {
  const { head, parts } = pictureForm(bytes, where);
  const pieces = [
    bytes.subarray(0, head),
    ...parts.filter((part) => part.isPicture).map(({ from, to }) => bytes.subarray(from, to)),
  ];
  return new Uint8Array(Buffer.concat(pieces));
}

/** Names of the segments that a published copy leaves out, such as E1 of a JPEG, which holds the place of the camera. */
export const leftOutOfCopy = (bytes: Uint8Array, where: string): string[] => [
  ...new Set(
    pictureForm(bytes, where)
      .parts.filter((part) => !part.isPicture)
      .map((part) => part.name),
  ),
];
