import { useEffect, useState } from "preact/hooks";
import { firstPage } from "../pages.ts";
import { parseRoute, type Route } from "../routing.ts";

/** Where the page stands, drawn again when the address changes. */
export function useRoute(): Route {
  const [route, setRoute] = useState(() => parseRoute(location.hash, firstPage));
  useEffect(() => {
    const follow = () => setRoute(parseRoute(location.hash, firstPage));
    addEventListener("hashchange", follow);
    return () => removeEventListener("hashchange", follow);
  }, []);
  return route;
}
