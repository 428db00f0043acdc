import { useState } from "preact/hooks";
import type { LinkChoice, Problem, RigView } from "../../src/contract/http.ts";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { WarningGlyph } from "../frame/banners.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { problemOf } from "../server/request.ts";
import { addresses, clearFault, connectRig } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { celsiusWords } from "../words/quantities.ts";
import { rigStateWords } from "../words/state-words.ts";

/** The rig and its line: state, identity, interlock, temperatures, health; and another rig to choose. */
export function RigPanel() {
  const rig = useStore(live.rig);
  const connection = useStore(live.connection);
  const known = connection === "lost" ? null : rig;
  return (
    <section class="panel rig" aria-labelledby="rig-title">
      <div class="panel-head">
        <h2 id="rig-title">Rig</h2>
        <p class={`rig-state rig-state-${known?.state ?? "unknown"}`} role="status">
          {(known === null || known.state === "fault" || known.state === "absent") && <WarningGlyph />}
          {known === null ? "State not known" : rigStateWords[known.state]}
        </p>
      </div>
      {known !== null && <RigFacts rig={known} />}
      <LinkForm address={rig?.address ?? null} />
    </section>
  );
}

function RigFacts({ rig }: { rig: RigView }) {
  const [problem, setProblem] = useState<Problem | null>(null);
  const { identity, health } = rig;
  return (
    <>
      {rig.problem !== null && <p class="problem">{rig.problem}</p>}
      {(identity?.emulated ?? rig.speed !== null) && (
        <p class="emulated">
          Emulated rig{rig.speed === null || rig.speed === 1 ? "" : `, clock ${rig.speed} times faster`}
        </p>
      )}
      {identity !== null && (
        <p class="hint">
          {identity.model}, serial {identity.serial}, {formatAmps(identity.lowestAmps)} to{" "}
          {formatAmps(identity.highestAmps)}
        </p>
      )}
      <dl class="rig-facts">
        <Fact name="Interlock" value={rig.interlock} abnormal={rig.interlock === "open"} />
        <Fact name="Stop button" value={rig.button} abnormal={rig.button === "pressed"} />
        <Fact name="Air" value={rig.ambientCelsius === null ? null : celsiusWords(rig.ambientCelsius)} />
        <Fact name="Source" value={rig.sourceCelsius === null ? null : celsiusWords(rig.sourceCelsius)} />
      </dl>
      <p class={health.missing > 0 ? "hint abnormal" : "hint"}>
        {health.missing > 0 && <WarningGlyph />}
        Line: {health.good} messages good, {health.damaged} damaged, {health.askedAgain} asked for again,{" "}
        {health.missing} missing
      </p>
      {rig.state === "fault" && (
        <>
          <button
            type="button"
            onClick={() =>
              clearFault().then(
                () => setProblem(null),
                (error: unknown) => setProblem(problemOf(error)),
              )
            }
          >
            The cause is gone: leave the fault state
          </button>
          <ProblemNote problem={problem} />
        </>
      )}
    </>
  );
}

function Fact({ name, value, abnormal = false }: { name: string; value: string | null; abnormal?: boolean }) {
  return (
    <div class={abnormal ? "abnormal" : ""}>
      <dt>{name}</dt>
      <dd>
        {abnormal && <WarningGlyph />}
        {value ?? "not known"}
      </dd>
    </div>
  );
}

function LinkForm({ address }: { address: string | null }) {
  const [open, setOpen] = useState(false);
  const links = useResource<LinkChoice[]>(open ? addresses.links : null);
  const [chosen, setChosen] = useState<string | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const typed = chosen ?? address ?? "";

  async function connect(event: Event) {
    event.preventDefault();
    setBusy(true);
    try {
      live.rig.set(await connectRig(typed));
      setProblem(null);
      setChosen(null);
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(false);
      links.reload();
    }
  }

  return (
    <details class="link-form" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Use another rig</summary>
      <form noValidate onSubmit={connect}>
        <ul class="link-choices">
          {links.value?.map((link) => (
            <li key={link.address}>
              <button
                type="button"
                aria-pressed={typed === link.address}
                onClick={() => setChosen(link.address)}
              >
                {link.words}
              </button>
            </li>
          ))}
        </ul>
        <div class="field">
          <label for="link-address">Address</label>
          <input
            id="link-address"
            value={typed}
            autoComplete="off"
            spellcheck={false}
            aria-describedby="link-forms"
            onInput={(event) => setChosen(event.currentTarget.value)}
          />
          <p id="link-forms" class="hint">
            serial:PATH, tcp:HOST:PORT or emulated
          </p>
        </div>
        <ProblemNote problem={problem} />
        <button type="submit" disabled={busy || typed === ""}>
          {busy ? "Connecting" : "Connect"}
        </button>
      </form>
    </details>
  );
}
