/** A small text file of protocols, one a line: all or nothing by name, or each line for itself. */
import { DataError, type Issue, type IssueCode } from "../errors.js";
import type { Prescription } from "./prescription.js";
import { parsePrescription } from "./written-form.js";
import { WrittenFormError } from "./written-error.js";

export type NamedProtocol = Readonly<{
  name: string;
  /** As it stands in the file. */
  written: string;
  prescription: Prescription;
  line: number;
}>;

/** Lines that say something, from 1; blank lines and those that begin with # say nothing. */
const sayingLines = (text: string): readonly Readonly<{ line: number; said: string }>[] =>
  text
    .replace(/^\uFEFF/u, "")
    .split(/\r\n|\r|\n/u)
    .map((raw, index) => ({ line: index + 1, said: raw.trim() }))
    .filter(({ said }) => said !== "" && !said.startsWith("#"));

/** A line of protocols as it stands: read, or why it cannot be. */
export type ProtocolLine = Readonly<{ line: number; name: string; written: string }> &
  (Readonly<{ prescription: Prescription }> | Readonly<{ problem: string }>);

/**
 * Every line of a text file, each for itself: a line that cannot be read costs no other.
 *
 * A line is a written form, with or without a name and a colon before it; without, it is called by its text.
 *
 * @source none: a reading
 * @example protocolLines("A: 4 x 20 s at 70%\n5 x 3 s")[1].name // => "5 x 3 s"
 */
export const protocolLines = (text: string): readonly ProtocolLine[] =>
  sayingLines(text).map(({ line, said }): ProtocolLine => {
    const colon = said.indexOf(":");
    const readings = [
      // A name has a letter: the colon of 1:30 ends none.
      ...(/\p{L}/u.test(said.slice(0, Math.max(0, colon)))
        ? [{ name: said.slice(0, colon).trim(), written: said.slice(colon + 1).trim() }]
        : []),
      { name: said, written: said },
    ];
    let problem = "";
    for (const { name, written } of readings)
      try {
        return { line, name, written, prescription: parsePrescription(written) };
      } catch (error) {
        if (!(error instanceof WrittenFormError)) throw error;
        problem ||= error.message;
      }
    return { line, ...readings[0]!, problem };
  });

/**
 * The protocols of a text file.
 *
 * Each line is a name, a colon and the written form; blank lines and lines that begin with # say nothing. The first
 * colon ends the name.
 *
 * @param text the file, in any line ending
 * @returns the protocols in the file's order
 * @throws {DataError} with every problem: line, the text that does not fit, how to mend it
 * @source none: a reading
 * @example
 * protocolList("A: 4 x 20 s at 70%, rest 60 s").length // => 1
 */
export const protocolList = (text: string): readonly NamedProtocol[] => {
  const issues: Issue[] = [];
  const protocols: NamedProtocol[] = [];
  const lineOf = new Map<string, number>();
  const report = (
    line: number,
    code: IssueCode,
    value: string,
    message: string,
    mend: string,
  ): void => {
    issues.push({ code, severity: "error", line, column: "", value, message, mend });
  };
  sayingLines(text).forEach(({ line, said: trimmed }) => {
    const colon = trimmed.indexOf(":");
    const name = trimmed.slice(0, Math.max(0, colon)).trim();
    if (name === "") {
      report(
        line,
        "no-name",
        trimmed,
        "a protocol without a name",
        "write a name, a colon and the protocol, for example long holds: 4 x 20 s at 70%, rest 60 s",
      );
      return;
    }
    const before = lineOf.get(name);
    if (before !== undefined) {
      report(
        line,
        "name-twice",
        name,
        `the name stands on line ${before} too`,
        "give each protocol its own name",
      );
      return;
    }
    lineOf.set(name, line);
    const written = trimmed.slice(colon + 1).trim();
    try {
      protocols.push({ name, written, prescription: parsePrescription(written), line });
    } catch (error) {
      if (!(error instanceof WrittenFormError)) throw error;
      report(line, error.code, written, "the protocol cannot be read", error.message);
    }
  });
  if (issues.length === 0 && protocols.length === 0) {
    report(
      0,
      "no-protocols",
      "",
      "no protocol stands in the file",
      "write one a line: name: 4 x 20 s at 70%, rest 60 s",
    );
  }
  if (issues.length > 0) throw new DataError(issues);
  return protocols;
};
