/** How a breaker trips: by heat and magnetism, by electronics, by magnetism alone, or not known. */
export type TripType = "thermal-magnetic" | "electronic" | "magnetic-only" | "unknown";

/** Which poles carry the current in a shot: one pole alone, or all poles in series. */
export type Loading = "pole-1" | "pole-2" | "pole-3" | "all";

/** How the specimen came to be among those tested; it decides what a rate over such specimens can say. */
export type Selection = "all of a panel" | "at random" | "on suspicion" | "unknown";

/**
 * One breaker under test: what is marked on it, where it came from and how it was received. Only label, rating, poles and
 * voltage must be known; what is not known is left out, never guessed.
 */
export interface Specimen {
  /** The name by which people on the bench know it; unique in one ledger. */
  label: string;
  ratedAmps: number;
  poles: 1 | 2 | 3;
  volts: number;
  frameAmps?: number;
  tripType?: TripType;
  /** Type letter of an IEC 60898-1 breaker. */
  typeLetter?: "B" | "C" | "D";
  /** Ambient for which it is calibrated, where marked. */
  calibratedCelsius?: number;
  makeCode?: string;
  typeCode?: string;
  dateCode?: string;
  madeYear?: number;
  job?: string;
  panel?: string;
  circuit?: string;
  receivedOn?: string;
  condition?: string;
  handleAsReceived?: "on" | "off" | "tripped" | "unknown";
  /** Handle movements known to have happened between removal and receipt. */
  operationsSinceRemoval?: number;
  selection?: Selection;
  notes?: string;
  /** True for invented specimens. */
  demo?: boolean;
  /** For the emulated rig only: the name of the breaker that plays this specimen. */
  emulatedBreaker?: string;
}

/** State of the specimen at a shot: never operated since receipt, or operated so many times. */
export type OperationState = { kind: "as-found" } | { kind: "exercised"; operations: number };
