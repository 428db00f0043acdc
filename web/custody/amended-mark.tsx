const heading = "amendments-title";

/** What the heading of the history needs so that the mark finds it. */
export const historyHeading = { id: heading, tabIndex: -1 } as const;

/** Goes to the history that stands on this page, for eyes and for the keyboard. Nothing where there is none. */
export function goToHistory(): void {
  const found = document.getElementById(heading);
  found?.scrollIntoView({ block: "start" });
  found?.focus({ preventScroll: true });
}

/** The mark of what is shown as newest amended; it leads to what was written before. Nothing where nothing was amended. */
export function AmendedMark({ count, name, href }: { count: number; name: string; href: string }) {
  if (count === 0) return null;
  return (
    <a
      class="amended"
      href={href}
      onClick={(event) => {
        // A row in which it stands leads elsewhere; and an address that is the present one leads nowhere.
        event.stopPropagation();
        goToHistory();
      }}
    >
      <span>
        amended, {count}
        <span class="for-ears">: history of {name}</span>
      </span>
    </a>
  );
}
