import type { Sending } from "../forms/use-sending.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import type { MadeFile } from "./fetch-file.ts";
import { useElapsed } from "./use-elapsed.ts";

/** Says that a file is being made, what went wrong, or where the finished file is kept. */
export function MadeFileNote({
  sending,
  file,
  making,
  opens = false,
}: {
  sending: Sending;
  file: MadeFile | null;
  making: string;
  opens?: boolean;
}) {
  const seconds = useElapsed(sending.sending);
  return (
    <>
      <ProblemNote problem={sending.problem} />
      <div role="status" class="made">
        {sending.sending && (
          <p class="waiting">
            <progress aria-label={making} />
            <span>
              {making}: <span aria-hidden="true">{seconds} s</span>
            </span>
          </p>
        )}
        {!sending.sending && file !== null && (
          <>
            <p>
              <strong>{file.name}</strong>, {sizeWords(file.bytes)}
              <span class="cell-more">
                SHA-256 <span class="hash">{file.hash}</span>
              </span>
            </p>
            <p class="downloads">
              <a class="button primary" href={file.address} download={file.name}>
                Keep the file
              </a>
              {opens && (
                <a class="button" href={file.address} target="_blank" rel="noreferrer">
                  Look at it
                </a>
              )}
            </p>
          </>
        )}
      </div>
    </>
  );
}

function sizeWords(bytes: number): string {
  return bytes < 1_000_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;
}
