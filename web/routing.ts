/** Where the page stands: the page's name and what follows it. `#/record/T0001` is `{ page: "record", rest: ["T0001"] }`. */
export interface Route {
  page: string;
  rest: string[];
}

/** Reads the part of an address after `#`. Anything unreadable is the first page. */
export function parseRoute(hash: string, firstPage: string): Route {
  const pieces = hash
    .replace(/^#\/?/, "")
    .split("/")
    .filter((piece) => piece !== "")
    .map(decodePiece);
  const [page, ...rest] = pieces;
  return page === undefined ? { page: firstPage, rest: [] } : { page, rest };
}

/** The address of a route, for a link or for `location.hash`. */
export function routeTo(page: string, ...rest: string[]): string {
  return `#/${[page, ...rest].map(encodeURIComponent).join("/")}`;
}

function decodePiece(piece: string): string {
  try {
    return decodeURIComponent(piece);
  } catch {
    return piece;
  }
}
