import { useState } from "preact/hooks";

/** A sentence that states a result whole, with a button that copies it. */
export function CopySentence({ sentence }: { sentence: string }) {
  const [copied, setCopied] = useState<"no" | "yes" | "failed">("no");
  async function copy() {
    try {
      await navigator.clipboard.writeText(sentence);
      setCopied("yes");
    } catch {
      setCopied("failed");
    }
  }
  return (
    <div class="sentence">
      <blockquote>{sentence}</blockquote>
      <button type="button" onClick={() => void copy()}>
        Copy the sentence
      </button>
      <span role="status" class="hint">
        {copied === "yes"
          ? "Copied."
          : copied === "failed"
            ? "Not allowed here: mark the sentence and copy it by hand."
            : ""}
      </span>
    </div>
  );
}
