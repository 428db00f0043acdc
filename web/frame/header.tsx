import type { LabView } from "../../src/contract/http.ts";
import { StopButton } from "../bench/stop-button.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { pages } from "../pages.ts";
import { routeTo } from "../routing.ts";
import { Who } from "../session/who.tsx";
import { DemoMark } from "../words/result-badge.tsx";

/** Name, navigation, lab; away from the bench also the stop, while a test runs. */
export function Header({ page, lab }: { page: string; lab: LabView | null }) {
  const shot = useStore(live.shot);
  return (
    <header class="header">
      <a class="brand" href={routeTo("bench")}>
        <svg viewBox="0 0 32 32" aria-hidden="true" focusable="false">
          <path d="M5 4v23h23" />
          <path d="M9 6c1 11 7 15 18 17" />
          <circle cx="14.5" cy="17" r="3.6" />
        </svg>
        Asfound
      </a>
      <nav aria-label="Pages">
        {pages.map(({ id, title }) => (
          <a key={id} class="page-link" href={routeTo(id)} aria-current={id === page ? "page" : undefined}>
            {title}
          </a>
        ))}
      </nav>
      {shot !== null && page !== "bench" && (
        <div class="header-stop">
          <a class="running-link" href={routeTo("bench", shot.specimen.id)}>
            Test running on {shot.specimen.details.label}
          </a>
          <StopButton />
        </div>
      )}
      <Who />
      <p class="header-lab">
        {lab?.demo && <DemoMark />}
        <span>{lab === null ? "" : `${lab.lab}, station ${lab.station}`}</span>
      </p>
    </header>
  );
}
