import type { ComponentChildren } from "preact";

/** Holds a table that is longer than the screen; it takes the focus so that it can be scrolled with the keys. */
export function ScrollFrame({ words, children }: { words: string; children: ComponentChildren }) {
  return (
    <section
      class="table-frame rows-frame"
      aria-label={words}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolled region must be reachable by keyboard (WCAG 2.1.1)
      tabIndex={0}
    >
      {children}
    </section>
  );
}
