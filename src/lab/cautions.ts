/** Cautions of every page, command and exhibit on which current is driven. */
export const cautions: readonly string[] = [
  "Current injection burns, arcs and can rupture a breaker. Qualified persons only.",
  "De-energise, lock out, isolate and fence the test area. Never touch leads under current.",
  "The emergency stop is the hard-wired button on the rig. Keep it within reach: this program is not it.",
  "A breaker that did not trip stays hot and closed. Terminals may be 50 K to 80 K above the room.",
  "Watch for fire on long tests. Do not leave a test alone.",
  "Local codes and licensed practice decide (OSHA 29 CFR 1910.331-.335, NFPA 70E by name).",
  "A pass says what one specimen did in one test; it is no statement that an installation is safe.",
];

/** The same for an owner, who has no bench: what must not be tried, and who decides. */
export const letterCautions: readonly string[] = [
  "Testing a breaker with current burns, arcs and can rupture it; a breaker that did not trip stays hot and closed.",
  "It is work for qualified persons on a fenced bench, with the power off, locked out and isolated where the breaker was.",
  "Local codes and licensed practice decide (OSHA 29 CFR 1910.331-.335, NFPA 70E by name).",
];

/** Stands wherever a rate is shown. */
export const rateCaution =
  "Breakers pulled on suspicion are no sample of the installed base: a rate over them says nothing about breakers in service.";
