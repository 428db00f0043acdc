/** Sequence numbers are counted modulo this. */
export const sequenceModulus = 65_536;

/** The sequence number after `sequence`: FFFF is followed by 0000. */
export function nextSequence(sequence: number): number {
  return (sequence + 1) % sequenceModulus;
}

/**
 * Number of steps forward from one sequence number to another, 0 to 65535.
 *
 * A distance of less than 32768 reads as "later", the rest as "earlier": RFC 1982 (Elz and Bush 1996), serial number
 * arithmetic with SERIAL_BITS = 16.
 */
export function sequenceDistance(from: number, to: number): number {
  return (to - from + sequenceModulus) % sequenceModulus;
}
