import { useState } from "preact/hooks";

/** A button that copies a text, and says whether it could. */
export function CopyText({ text, words }: { text: string; words: string }) {
  const [copied, setCopied] = useState<string>("");
  async function copy() {
    try {
      await navigator.clipboard.writeText(text);
      setCopied("Copied.");
    } catch {
      setCopied("Not allowed here: mark it and copy it by hand.");
    }
  }
  return (
    <>
      <button type="button" onClick={() => void copy()}>
        {words}
      </button>
      <span role="status" class="hint">
        {copied}
      </span>
    </>
  );
}
