import { useState } from "preact/hooks";
import { TextField } from "../forms/field.tsx";

const key = "asfound-person";

/** Who stands at this screen, kept in this browser so that it is typed once. */
export function usePerson(): [string, (name: string) => void] {
  const [person, setPerson] = useState(() => localStorage.getItem(key) ?? "");
  return [
    person,
    (name) => {
      localStorage.setItem(key, name);
      setPerson(name);
    },
  ];
}

/** Under which name an entry is made. */
export function PersonField({
  id,
  value,
  onChange,
  problem,
}: {
  id: string;
  value: string;
  onChange: (name: string) => void;
  problem: string | null;
}) {
  return (
    <TextField
      id={id}
      label="Entered by, full name"
      value={value}
      onChange={onChange}
      required
      problem={problem}
    />
  );
}
