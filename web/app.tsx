import { useEffect } from "preact/hooks";
import type { LabView } from "../src/contract/http.ts";
import { Announcer } from "./bench/announcer.tsx";
import { stopCurrent } from "./bench/stop-current.ts";
import { ConnectionBanner, SeedingBanner } from "./frame/banners.tsx";
import { Guarded } from "./frame/guarded.tsx";
import { Header } from "./frame/header.tsx";
import { useRoute } from "./frame/use-route.ts";
import { live } from "./live/live.ts";
import { useStore } from "./live/store.ts";
import { pages } from "./pages.ts";
import { addresses } from "./server/resources.ts";
import { useResource } from "./server/use-resource.ts";
import { mayEnter, session } from "./session/session.ts";
import { SignInPage } from "./session/sign-in-page.tsx";

/** The whole page: header, banners, and the page that the address names. */
export function App() {
  const { page, rest } = useRoute();
  const here = useStore(session);
  const inside = mayEnter(here);
  const lab = useResource<LabView>(inside ? addresses.lab : null);
  const connection = useStore(live.connection);
  const chosen = pages.find((one) => one.id === page);

  useEffect(() => {
    document.title = chosen === undefined ? "Asfound" : `${chosen.title}, Asfound`;
  }, [chosen]);

  // Escape stops from every page. It asks nothing back: a stop too many does no harm.
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== "Escape" || event.repeat || live.shot.get() === null) return;
      event.preventDefault();
      void stopCurrent();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);

  if (here === null) return <p class="empty">Asking the bench program who is here.</p>;
  if (!inside)
    return (
      <main id="content">
        <SignInPage />
      </main>
    );
  const Content = chosen?.component;
  return (
    <div class={`frame frame-${page}${connection === "lost" ? " frame-lost" : ""}`}>
      <button type="button" class="skip" onClick={() => document.getElementById("content")?.focus()}>
        Skip to the content
      </button>
      <Header page={page} lab={lab.value} />
      <Announcer />
      <div class="banners">
        <ConnectionBanner />
        <SeedingBanner />
      </div>
      <main id="content" tabIndex={-1}>
        {Content === undefined ? (
          <p class="empty">There is no page of this name.</p>
        ) : (
          <Guarded key={page}>
            <Content rest={rest} />
          </Guarded>
        )}
      </main>
    </div>
  );
}
