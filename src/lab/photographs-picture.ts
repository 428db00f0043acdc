/** How a picture's file is built. `head` bytes of signature, then parts end to end, then `extra` bytes of no picture. */
export interface PictureForm {
  mediaType: "image/png" | "image/jpeg";
  width: number;
  height: number;
  head: number;
  parts: { name: string; from: number; to: number; isPicture: boolean }[];
  extra: number;
}
