import type { Prescription } from "./prescription.js";

/** The one hold length that stands for a prescription, s: itself, or the midpoint of a range. */
export const effectiveHoldSeconds = (p: Prescription): number =>
  p.holdSecondsHigh === undefined ? p.holdSeconds : (p.holdSeconds + p.holdSecondsHigh) / 2;
