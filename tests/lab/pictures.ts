import { crc32 } from "node:zlib";

/*
 * Pictures of 40 by 24 pixels, drawn by pdftoppm (poppler) from an invented page: a baseline JPEG, a progressive JPEG and a PNG.
 */
const decoded = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, "base64"));

export const jpeg = decoded(
  "/9j/4AAQSkZJRgABAQEASABIAAD/2wBDAAgGBgcGBQgHBwcJCQgKDBQNDAsLDBkSEw8UHRofHh0aHBwgJC4nICIsIxwcKDcpLDAx" +
    "NDQ0Hyc5PTgyPC4zNDL/2wBDAQkJCQwLDBgNDRgyIRwhMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIy" +
    "MjIyMjIyMjL/wAARCAAYACgDASIAAhEBAxEB/8QAHwAAAQUBAQEBAQEAAAAAAAAAAAECAwQFBgcICQoL/8QAtRAAAgEDAwIEAwUF" +
    "BAQAAAF9AQIDAAQRBRIhMUEGE1FhByJxFDKBkaEII0KxwRVS0fAkM2JyggkKFhcYGRolJicoKSo0NTY3ODk6Q0RFRkdISUpTVFVW" +
    "V1hZWmNkZWZnaGlqc3R1dnd4eXqDhIWGh4iJipKTlJWWl5iZmqKjpKWmp6ipqrKztLW2t7i5usLDxMXGx8jJytLT1NXW19jZ2uHi" +
    "4+Tl5ufo6erx8vP09fb3+Pn6/8QAHwEAAwEBAQEBAQEBAQAAAAAAAAECAwQFBgcICQoL/8QAtREAAgECBAQDBAcFBAQAAQJ3AAEC" +
    "AxEEBSExBhJBUQdhcRMiMoEIFEKRobHBCSMzUvAVYnLRChYkNOEl8RcYGRomJygpKjU2Nzg5OkNERUZHSElKU1RVVldYWVpjZGVm" +
    "Z2hpanN0dXZ3eHl6goOEhYaHiImKkpOUlZaXmJmaoqOkpaanqKmqsrO0tba3uLm6wsPExcbHyMnK0tPU1dbX2Nna4uPk5ebn6Onq" +
    "8vP09fb3+Pn6/9oADAMBAAIRAxEAPwD3+ivPPE3xR/4RzxDdaV/Y/wBo8jZ+9+1bN25A3TYcdcdayf8Ahdn/AFL3/k7/APa655Yu" +
    "jFtN/mezS4fzGrCNSFO6autY7P5nQ/ET4if8ID/Zv/Eq+3fbfN/5ePK2bNn+y2c7/bpXDf8ADRP/AFK3/lQ/+1VyXxS8bf8ACY/2" +
    "T/xL/sn2Xzv+W3mbt2z/AGRjG39a87r9FyHJ8vxuX08RUhdu+t5LaTXddjw8dSr4SvKhVVpK2mj3V+h9VfDv4if8J9/aX/Eq+w/Y" +
    "vK/5ePN379/+yuMbPfrRXDfs7f8AMyf9uv8A7Vor5fO8NSw2PqUaKtFWsvkn1FTk5RTZc8c+BvEes+Mr+/sNO861l8vY/nxrnEag" +
    "8FgeoNc9/wAKz8X/APQI/wDJmL/4uiivnZYGnKTk29f67H1NDinGUKUaUYxtFJbPordzofA3gbxHo3jKwv7/AE7ybWLzN7+fG2Mx" +
    "sBwGJ6kV7LRRXRRoxpR5YnlZlmVXMKqq1Uk0raX7t9W+4UUUVqeef//Z",
);
export const progressiveJpeg = decoded(
  "/9j/4AAQSkZJRgABAQEASABIAAD/2wBDAAgGBgcGBQgHBwcJCQgKDBQNDAsLDBkSEw8UHRofHh0aHBwgJC4nICIsIxwcKDcpLDAx" +
    "NDQ0Hyc5PTgyPC4zNDL/2wBDAQkJCQwLDBgNDRgyIRwhMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIyMjIy" +
    "MjIyMjIyMjL/wgARCAAYACgDASIAAhEBAxEB/8QAGQABAQEAAwAAAAAAAAAAAAAAAAUGAwQH/8QAGQEAAgMBAAAAAAAAAAAAAAAA" +
    "BAUAAgMG/9oADAMBAAIQAxAAAAHfs91MzKEORneiB9VQyuc04XNKOyNBQuP/AP/EABwQAAICAwEBAAAAAAAAAAAAAAAEBRQDEBUG" +
    "Fv/aAAgBAQABBQLUjI0D6IjpG+Myldjtko7c150eRYzOcxsRRYwua//EAB8RAAICAgEFAAAAAAAAAAAAAAECAAQDBRAREiExsf/a" +
    "AAgBAwEBPwFdfYYBgvyZ1fE5RvcU9RE2mZFCgDxLNlrDdzcf/8QAHREAAgMAAgMAAAAAAAAAAAAAAQIAAwQQETFRsf/aAAgBAgEB" +
    "PwE2oJgx57s62MPvuba1rvZE8Q0KT3EQKOhx/8QAJxAAAAQDBwUBAAAAAAAAAAAAAAIREgEDQRAjNEJRouEEEzOCo8H/2gAIAQEA" +
    "Bj8Csl3T3rmQYX6cCZdMYmZQaV2XJVww+/gSrtrVqtnU+v6DnJLUsUrDQeLdAEOeWhYLWGlv/8QAHRAAAQQDAQEAAAAAAAAAAAAA" +
    "EQEQUWEAQdEx8P/aAAgBAQABPyFuGgBSywdNAmkjIqOklDDB3XiKpy8L2KLS8+fTPS9im2t//9oADAMBAAIAAwAAABDG/J97z//E" +
    "ABwRAQABBQEBAAAAAAAAAAAAAAERACExQVEQgf/aAAgBAwEBPxCbkJJfB+0PcCLWck6pAWo2gBh0R2gpghFp6u175//EAB4RAQAB" +
    "AwUBAAAAAAAAAAAAAAERACFREDFBgbHw/9oACAECAQE/EFEX2pEKzeRsjJij4gRB0PNIEt/saiP/xAAeEAACAgEFAQAAAAAAAAAA" +
    "AAABERAxUSFhcbHwAP/aAAgBAQABPxCPBb9x8ajfBb9hc7+6dOmjq1cN4kDgl2mc+8uIB0IGwYfx7y4wDQEbIn//2Q==",
);
export const png = decoded(
  "iVBORw0KGgoAAAANSUhEUgAAACgAAAAYCAIAAAAH5iiXAAAACXBIWXMAAAsSAAALEgHS3X78AAAASklEQVRIx2P8//8/w0AAJoYB" +
    "AiPPYhZKNDMykqYeOTmNxvGoxaMWUz0fk5olYTlzNKiHeVn9n4ERvQgeDepRiwdPqqZ7W3PAfAwAA9ELMsNORYIAAAAASUVORK5C" +
    "YII=",
);

/** Stands in metadata for what must not be published. */
export const secret = "48.2082N 16.3738E Invented Street 1";

const joined = (...parts: (Uint8Array | number[] | string)[]): Uint8Array =>
  new Uint8Array(
    Buffer.concat(parts.map((part) => (typeof part === "string" ? Buffer.from(part) : Buffer.from(part)))),
  );

const segment = (code: number, body: Uint8Array): Uint8Array => {
  const length = body.length + 2;
  return joined([0xff, code, length >> 8, length & 255], body);
};

/** The same JPEG with an Exif segment (E1), a comment (FE) and bytes after its end, each with the secret in it. */
export const jpegWithPlaces = (bytes: Uint8Array = jpeg): Uint8Array =>
  joined(
    bytes.subarray(0, 2),
    segment(0xe1, joined("Exif", [0, 0], `MM${secret}`)),
    segment(0xfe, joined(secret)),
    bytes.subarray(2),
    secret,
  );

/** One chunk of a PNG, with its length and checksum. */
export function chunk(name: string, body: Uint8Array): Uint8Array {
  const typed = joined(name, body);
  const numbers = Buffer.alloc(8);
  numbers.writeUInt32BE(body.length, 0);
  numbers.writeUInt32BE(crc32(typed), 4);
  return joined(numbers.subarray(0, 4), typed, numbers.subarray(4));
}

/** The same PNG with eXIf, tEXt and tIME chunks, each but the last with the secret in it. */
export const pngWithPlaces = (): Uint8Array =>
  joined(
    png.subarray(0, 33),
    chunk("eXIf", joined(secret)),
    chunk("tEXt", joined("Comment", [0], secret)),
    chunk("tIME", joined([7, 234, 6, 15, 8, 0, 0])),
    png.subarray(33),
  );
