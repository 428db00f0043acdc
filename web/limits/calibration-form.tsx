import { useState } from "preact/hooks";
import type { CalibrationInput } from "../../src/contract/calibration-schema.ts";
import { ChoiceField, LongField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { readNumber } from "../forms/read-number.ts";
import { useSending } from "../forms/use-sending.ts";
import { ProblemFields } from "../frame/problem-fields.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { problemOfField } from "../server/request.ts";
import { addCalibration } from "../server/resources.ts";

type Quantity = CalibrationInput["quantity"];
const units = { current: "A", time: "s", temperature: "°C" } as const;
const nothing = {
  instrument: "",
  serial: "",
  certificate: "",
  issuer: "",
  on: "",
  due: "",
  expanded: "",
  k: "2",
  points: "",
};
type Name = keyof typeof nothing;

/** Records one certificate: who calibrated what, when, until when, and with what uncertainty. */
export function CalibrationForm({ onAdded }: { onAdded: () => void }) {
  const rig = useStore(live.rig)?.identity ?? null;
  const [text, setText] = useState(nothing);
  const [quantity, setQuantity] = useState<Quantity>("current");
  const sending = useSending();
  const field = (name: Name, label: string, kind: "text" | "number" | "date" = "text", as: string = name) => (
    <TextField
      id={`calibration-${name}`}
      label={label}
      kind={kind}
      value={text[name]}
      onChange={(value) => setText({ ...text, [name]: value })}
      problem={problemOfField(sending.problem, as)}
    />
  );
  const expandedName = quantity === "current" ? "expandedPercent" : "expandedSeconds";

  async function send(event: Event) {
    event.preventDefault();
    const wrong: { field: string; problem: string }[] = [];
    const number = (written: string, name: string) => {
      const value = readNumber(written);
      if (!Number.isFinite(value))
        wrong.push({ field: name, problem: `Found "${written}"; a number is accepted.` });
      return value;
    };
    const points = text.points
      .split(/\r\n|\n|\r/)
      .filter((line) => line.trim() !== "")
      .map((line, at) => {
        const [value = "", deviation = "", expanded = "", ...more] = line.split(/[;\t]|,\s*/);
        if (more.length > 0)
          wrong.push({
            field: `points, line ${at + 1}`,
            problem: `Found "${line}"; value, deviation, U are accepted.`,
          });
        return {
          value: number(value, `points, line ${at + 1}`),
          unit: units[quantity],
          deviation: number(deviation, `points, line ${at + 1}`),
          expanded: number(expanded, `points, line ${at + 1}`),
        };
      });
    const { instrument, serial, certificate, issuer, on, due } = text;
    const record: CalibrationInput = {
      instrument,
      serial,
      quantity,
      certificate,
      issuer,
      on,
      due,
      points,
      k: number(text.k, "k"),
      ...(text.expanded === "" || quantity === "temperature"
        ? {}
        : { [expandedName]: number(text.expanded, expandedName) }),
    };
    if (wrong.length > 0) {
      sending.refuse(wrong);
      return;
    }
    if (await sending.send(() => addCalibration(record), `Certificate ${certificate} recorded.`)) {
      setText(nothing);
      onAdded();
    }
  }

  return (
    <section class="panel" aria-labelledby="calibration-form-title">
      <h2 id="calibration-form-title">Record a certificate</h2>
      {rig !== null && (
        <p class="hint">
          The rig says of itself: {rig.model}, serial {rig.serial}. A record counts for it when it bears that
          serial number.{" "}
          <button
            type="button"
            class="quiet"
            onClick={() => setText({ ...text, serial: rig.serial, instrument: `rig ${rig.model}` })}
          >
            Take the rig's own
          </button>
        </p>
      )}
      <form noValidate onSubmit={send} class="form" aria-label="Record a certificate">
        <div class="fields fields-first">
          {field("instrument", "Instrument")}
          {field("serial", "Serial number")}
          <ChoiceField
            id="calibration-quantity"
            label="It measures"
            value={quantity}
            onChange={(value) => setQuantity(value as Quantity)}
            choices={(["current", "time", "temperature"] as const).map((one) => [one, one])}
          />
          {field("certificate", "Number of the certificate")}
          {field("issuer", "Issued by")}
          {field("on", "Calibrated on", "date")}
          {field("due", "Last day of use", "date")}
          {quantity !== "temperature" &&
            field(
              "expanded",
              quantity === "current" ? "Expanded uncertainty U, % of reading" : "Expanded uncertainty U, s",
              "number",
              expandedName,
            )}
          {field("k", "Coverage factor k", "number")}
          <LongField
            id="calibration-points"
            label={`Points, one a line: value, deviation, U in ${units[quantity]}`}
            value={text.points}
            onChange={(points) => setText({ ...text, points })}
            example="100, 0.12, 0.5"
            wide
          />
        </div>
        <ProblemFields problem={sending.problem} />
        <FormEnd sending={sending} words="Record the certificate" />
      </form>
    </section>
  );
}
