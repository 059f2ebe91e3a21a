import { CallError } from "../../../errors.js";
import type { Prescription } from "../../../protocol/prescription.js";
import { WrittenFormError } from "../../../protocol/written-error.js";
import { readWritten } from "../../../protocol/written-form.js";

/** Why a written protocol cannot be read, and where in the text. */
export type ProtocolProblem = Readonly<{
  message: string;
  /** The text before, at and after the place; absent where the whole is meant. */
  place?: Readonly<{ before: string; at: string; after: string }>;
  /** A whole protocol that may have been meant. */
  meant?: string;
}>;

/** A protocol as written: what it says, or what stands in the way. */
export type ReadProtocol =
  | Readonly<{
      kind: "sound";
      text: string;
      prescription: Prescription;
      /** What was assumed, each in a few words. */
      taken: readonly string[];
    }>
  | Readonly<{ kind: "unreadable"; text: string; problem: ProtocolProblem }>;

/** Reads a written protocol. */
export const readProtocol = (text: string): ReadProtocol => {
  if (text.trim() === "")
    return {
      kind: "unreadable",
      text,
      problem: { message: "Write a protocol, for example 4 × 20 s at 70%, rest 60 s." },
    };
  try {
    return { kind: "sound", text, ...readWritten(text) };
  } catch (error) {
    if (!(error instanceof CallError)) throw error;
    if (!(error instanceof WrittenFormError))
      return { kind: "unreadable", text, problem: { message: error.message } };
    const { place, length, expected, example, meant } = error;
    const end = place + length;
    return {
      kind: "unreadable",
      text,
      problem: {
        message: `Expected here: ${expected}, for example ${example}.`,
        place: { before: text.slice(0, place), at: text.slice(place, end), after: text.slice(end) },
        ...(meant === undefined ? {} : { meant }),
      },
    };
  }
};
