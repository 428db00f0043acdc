import type { Verdict } from "../../src/core/limits/verdict.ts";
import { resultWords } from "./verdict-words.ts";

type Result = Verdict["result"];

/** Each result has its own outline and stroke, so that it is told apart without colour. */
const glyphs: Readonly<Record<Result, preact.JSX.Element>> = {
  pass: (
    <>
      <circle cx="10" cy="10" r="8.5" />
      <path d="M5.8 10.4 9 13.4 14.4 7" />
    </>
  ),
  fail: (
    <>
      <path d="M6.4 1.5h7.2l4.9 4.9v7.2l-4.9 4.9H6.4l-4.9-4.9V6.4z" />
      <path d="M6.6 6.6l6.8 6.8M13.4 6.6l-6.8 6.8" />
    </>
  ),
  undetermined: (
    <>
      <circle cx="10" cy="10" r="8.5" stroke-dasharray="3 2.4" />
      <path d="M7.4 8c0-3.4 5.4-3.3 5.4-.2 0 1.9-2.7 2.1-2.7 4.1M10.1 14.2v.9" />
    </>
  ),
  excluded: (
    <>
      <rect x="2" y="2" width="16" height="16" rx="2" />
      <path d="M4.6 15.4 15.4 4.6" />
    </>
  ),
};

/** A result as glyph and word. Without a result it says so in words. */
export function ResultBadge({ result, large = false }: { result: Result | null; large?: boolean }) {
  if (result === null) return <span class="result result-none">No verdict</span>;
  return (
    <span class={`result result-${result}${large ? " result-large" : ""}`}>
      <svg viewBox="0 0 20 20" aria-hidden="true" focusable="false">
        {glyphs[result]}
      </svg>
      {resultWords[result].word}
    </span>
  );
}

/** The mark that stands beside everything invented. */
export function DemoMark() {
  return (
    <span class="demo-mark" title="Invented for the demo lab; no real breaker">
      demo
    </span>
  );
}
