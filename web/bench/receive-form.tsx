import { useEffect, useRef, useState } from "preact/hooks";
import type { BreakerChoice, Problem, SpecimenView } from "../../src/contract/http.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { problemOf, problemOfField } from "../server/request.ts";
import { addresses, receiveSpecimen } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import {
  type FormText,
  keptForNext,
  type SpecimenField,
  specimenFields,
  specimenFromForm,
} from "./specimen-fields.ts";

/** Kept while the page is open, so that the specimens of one panel need little typing. */
let lastTime: FormText = {};

/** Form in which a specimen is received. */
export function ReceiveForm({
  onReceived,
  onLeave,
}: {
  onReceived: (specimen: SpecimenView) => void;
  onLeave: () => void;
}) {
  const rig = useStore(live.rig);
  const emulated = rig?.identity?.emulated ?? rig?.address.startsWith("emulated") ?? false;
  const breakers = useResource<BreakerChoice[]>(emulated ? addresses.breakers : null);
  const [text, setText] = useState<FormText>(lastTime);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [sending, setSending] = useState(false);
  const form = useRef<HTMLFormElement>(null);

  useEffect(() => {
    form.current?.querySelector<HTMLElement>("input")?.focus();
  }, []);

  const change = (name: keyof FormText) => (value: string) =>
    setText((before) => ({ ...before, [name]: value }));

  async function send(event: Event) {
    event.preventDefault();
    const read = specimenFromForm(emulated ? { demo: "yes", ...text } : text);
    if (!read.ok) {
      setProblem({
        type: "about:blank",
        title: "",
        status: 0,
        detail: "Some fields need another look.",
        fields: read.fields,
      });
      return;
    }
    setSending(true);
    try {
      const specimen = await receiveSpecimen(read.details);
      lastTime = keptForNext(text);
      onReceived(specimen);
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setSending(false);
    }
  }

  const inputs = (place: SpecimenField["place"]) =>
    specimenFields
      .filter((field) => field.place === place)
      .map((field) => (
        <Input
          key={field.name}
          field={field}
          value={text[field.name] ?? ""}
          problem={problemOfField(problem, field.name)}
          onChange={change(field.name)}
        />
      ));
  const moreIsWrong = specimenFields.some(
    (field) => field.place === "more" && problemOfField(problem, field.name) !== null,
  );

  return (
    <section class="receive" aria-labelledby="receive-title">
      <div class="panel-head">
        <h2 id="receive-title">Receive a specimen</h2>
        <button type="button" class="quiet" onClick={onLeave}>
          Cancel
        </button>
      </div>
      <form ref={form} noValidate onSubmit={send}>
        <div class="fields fields-first">{inputs("first")}</div>
        {emulated && (
          <div class="fields">
            <div class="field field-wide">
              <label for="emulated-breaker">Emulated breaker that plays it</label>
              <select
                id="emulated-breaker"
                value={text.emulatedBreaker ?? ""}
                onChange={(event) => change("emulatedBreaker")(event.currentTarget.value)}
              >
                <option value="">the rig's own choice</option>
                {breakers.value?.map(({ name, about }) => (
                  <option key={name} value={name}>
                    {name}: {about}
                  </option>
                ))}
              </select>
            </div>
            <label class="tick field-wide">
              <input
                type="checkbox"
                checked={(text.demo ?? "yes") === "yes"}
                onChange={(event) => change("demo")(event.currentTarget.checked ? "yes" : "no")}
              />
              <span>Mark it as demo: no real breaker stands behind it</span>
            </label>
          </div>
        )}
        <details open={moreIsWrong || undefined}>
          <summary>Origin, condition and marking</summary>
          <div class="fields">{inputs("more")}</div>
        </details>
        <div class="form-end">
          <ProblemNote problem={problem} />
          <button type="submit" class="primary" disabled={sending}>
            Receive
          </button>
        </div>
      </form>
    </section>
  );
}

function Input({
  field,
  value,
  problem,
  onChange,
}: {
  field: SpecimenField;
  value: string;
  problem: string | null;
  onChange: (value: string) => void;
}) {
  const id = `field-${field.name}`;
  const shared = {
    id,
    value,
    "aria-invalid": problem !== null,
    "aria-describedby": problem === null ? undefined : `${id}-problem`,
    "aria-required": field.required ?? false,
    onInput: (event: { currentTarget: { value: string } }) => onChange(event.currentTarget.value),
  };
  return (
    <div class={`field${field.kind === "long" || field.name === "label" ? " field-wide" : ""}`}>
      <label for={id}>
        {field.label}
        {field.unit === undefined ? "" : `, ${field.unit}`}
      </label>
      {field.kind === "choice" ? (
        <select {...shared}>
          <option value="">{field.required ? "choose" : "not known"}</option>
          {field.choices?.map(([choice, words]) => (
            <option key={choice} value={choice}>
              {words}
            </option>
          ))}
        </select>
      ) : field.kind === "long" ? (
        <textarea {...shared} rows={2} />
      ) : (
        <input
          {...shared}
          type={field.kind === "date" ? "date" : "text"}
          inputMode={field.kind === "number" ? "decimal" : "text"}
          placeholder={field.example ?? ""}
          autoComplete="off"
        />
      )}
      {problem !== null && (
        <p class="field-problem" id={`${id}-problem`}>
          {problem}
        </p>
      )}
    </div>
  );
}
