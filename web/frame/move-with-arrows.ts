/** Moves the focus among the marked elements of a list with the arrow keys, Home and End. For `onKeyDown` of the list. */
export function moveWithArrows(selector: string) {
  return (event: KeyboardEvent) => {
    const list = event.currentTarget;
    if (!(list instanceof HTMLElement)) return;
    const items = [...list.querySelectorAll<HTMLElement>(selector)];
    const here = items.findIndex((item) => item.contains(document.activeElement));
    const target = { ArrowDown: here + 1, ArrowUp: here - 1, Home: 0, End: items.length - 1 }[event.key];
    if (target === undefined || here === -1) return;
    event.preventDefault();
    items[Math.min(Math.max(target, 0), items.length - 1)]?.focus();
  };
}
