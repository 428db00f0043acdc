import { useStore } from "../live/store.ts";
import { routeTo } from "../routing.ts";
import { giveBenchBack, session, signOut } from "./session.ts";

/** Who is signed in, who drives the bench, and the way out. Nothing where nobody has to sign in. */
export function Who() {
  const view = useStore(session);
  if (view === null || view.person === null) return null;
  const { bench } = view;
  return (
    <div class="who">
      {bench !== null && !bench.mine && <span class="hint">{bench.person} drives the bench</span>}
      {bench?.mine === true && (
        <button type="button" onClick={() => void giveBenchBack().catch(() => undefined)}>
          Give the bench back
        </button>
      )}
      <a class="who-name" href={routeTo("people")}>
        {view.person}
      </a>
      <button type="button" onClick={() => void signOut().catch(() => undefined)}>
        Sign out
      </button>
    </div>
  );
}
