import { useState } from "preact/hooks";
import { PersonField, usePerson } from "../custody/person-field.tsx";
import { LongField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { openJob } from "../server/resources.ts";

const empty = {
  site: "",
  on: "",
  clientReference: "",
  removedBy: "",
  authority: "",
  circumstances: "",
  panels: "",
};

/** Opens a job: where, when, by whom and on whose authority the specimens were removed. */
export function JobForm({ name, onOpened }: { name: string; onOpened: (job: string) => void }) {
  const [job, setJob] = useState(name);
  const [text, setText] = useState(empty);
  const [person, setPerson] = usePerson();
  const sending = useSending();
  const field = (one: keyof typeof empty) => ({
    id: `job-${one}`,
    value: text[one],
    onChange: (value: string) => setText((before) => ({ ...before, [one]: value })),
    problem: problemOfField(sending.problem, one),
  });
  const told = (one: "clientReference" | "removedBy" | "authority") =>
    text[one].trim() === "" ? {} : { [one]: text[one].trim() };

  async function send(event: Event) {
    event.preventDefault();
    const details = {
      ...{ job: job.trim(), site: text.site, on: text.on, circumstances: text.circumstances, by: person },
      ...{ ...told("clientReference"), ...told("removedBy"), ...told("authority") },
      panels: text.panels.split(/[\n,;]/).flatMap((one) => (one.trim() === "" ? [] : [one.trim()])),
    };
    if (await sending.send(() => openJob(details), "Opened.")) onOpened(details.job);
  }

  return (
    <form noValidate onSubmit={send} class="form" aria-label="Open a job">
      <div class="fields fields-first">
        <TextField
          id="job-name"
          label="Name of the job"
          value={job}
          onChange={setJob}
          required
          problem={problemOfField(sending.problem, "job")}
        />
        <TextField {...field("site")} label="Site" required />
        <TextField {...field("on")} label="Day of the removal" kind="date" required />
        <TextField {...field("removedBy")} label="Removed by" />
        <TextField {...field("authority")} label="On whose authority" />
        <TextField {...field("clientReference")} label="Client's reference" />
        <LongField {...field("circumstances")} label="Why and how they were removed" rows={2} wide="double" />
        <LongField {...field("panels")} label="Panels, a line each" rows={2} />
        <PersonField
          id="job-by"
          value={person}
          onChange={setPerson}
          problem={problemOfField(sending.problem, "by")}
        />
      </div>
      <FormEnd sending={sending} words="Open the job" />
    </form>
  );
}
