import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";

/** Says that the page no longer hears the bench, and what follows from that. */
export function ConnectionBanner() {
  const connection = useStore(live.connection);
  if (connection !== "lost") return null;
  return (
    <div class="banner banner-abnormal" role="alert">
      <WarningGlyph />
      <p>
        <strong>No connection to the bench program. The state of the rig is not known.</strong> What is shown
        may be out of date. If current may be flowing, press the hard-wired emergency stop on the rig. "Stop
        test" is still tried. The page keeps trying to connect.
      </p>
    </div>
  );
}

/** Progress of the demo lab's own tests on a first start. */
export function SeedingBanner() {
  const seeding = useStore(live.seeding);
  if (seeding === null) return null;
  return (
    <div class="banner" role="status">
      <p>
        <strong>
          Making the demo lab: {seeding.done} of {seeding.total} tests.
        </strong>{" "}
        {seeding.doing}. All of it is invented and is marked as demo.
      </p>
      <progress max={seeding.total} value={seeding.done} aria-label="Tests of the demo lab made so far" />
    </div>
  );
}

/** Triangle with a stroke: something is not as it should be. */
export function WarningGlyph() {
  return (
    <svg class="glyph" viewBox="0 0 20 20" aria-hidden="true" focusable="false">
      <path d="M10 2 19 18H1z" />
      <path d="M10 8v5M10 15v1" />
    </svg>
  );
}
