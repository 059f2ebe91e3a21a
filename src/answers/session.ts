/** A protocol as questions take it: read, laid out in time, judged, drawn, with its soreness and its cautions. */
import { canBeHeld, type CanBeHeldOptions, type HoldAssessment } from "../endurance/can-be-held.js";
import { CallError } from "../errors.js";
import type { NamedFigure } from "../figures/figure-list.js";
import { shownDuration } from "../tables/shown-duration.js";
import { protocolList } from "../protocol/protocol-list.js";
import { sorenessNotes } from "../projection/soreness.js";
import { tensionTimePerSessionSeconds } from "../protocol/derived-quantities.js";
import {
  fieldWords,
  joints,
  rangeFields,
  type Joint,
  type Prescription,
} from "../protocol/prescription.js";
import { sessionTimeline, timelineNeeds, type TimelinePart } from "../protocol/session-timeline.js";
import { rangeEnds, rangesOf, typicalOf } from "../protocol/range-ends.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { readWritten } from "../protocol/written-form.js";
import { kebabName } from "../tables/dose-table.js";
import { holdAnswer } from "../tables/hold-table.js";
import { sorenessTable } from "../tables/soreness-table.js";
import type { Table } from "../tables/table.js";
import { oneOf, option, text } from "./option.js";

export const protocolOption = option(text(), {
  help: 'a session in quotation marks, for example "4 x 20 s at 70%, rest 60 s, 3/week, long"',
  operand: "one",
});

export const nameOption = option(text().optional(), {
  help: "what the protocol is called, in words and in names of files",
  value: "<name>",
  seldom: true,
});

/** A protocol's name as it ends the names of its files, and as it leads what is said of it. */
export const namedAs = (
  name: string | undefined,
): Readonly<{ suffix: string; lead: (words: string) => string }> =>
  name === undefined
    ? { suffix: "", lead: (words) => words }
    : { suffix: `-${kebabName(name)}`, lead: (words) => `${name}: ${words}` };

export const jointOption = option(oneOf(joints).optional(), {
  help: `joint whose endurance curve is used: ${joints.join(", ")}`,
  value: "<joint>",
  labels: { "": "not stated" },
});

/** Ranges that the questions take as they are; of the others they take the middle. */
const rangesKept: readonly string[] = ["holdSeconds", "intensityPercent"];

/**
 * A protocol with the joint of `--joint` where it names none itself.
 *
 * @throws {CallError} "two-joints" where it names another
 */
export const withJoint = (p: Prescription, joint: Joint | undefined): Prescription => {
  if (joint === undefined || p.joint === joint) return p;
  if (p.joint !== undefined)
    throw new CallError({
      code: "two-joints",
      where: "--joint",
      needs: "the joint the protocol names, or a protocol that names none",
      got: `${joint} beside ${p.joint}`,
    });
  return { ...p, joint };
};

/** A protocol as typed with its ranges, and with the joint of `--joint`. */
const asTyped = (written: string, joint: Joint | undefined): Prescription =>
  withJoint(readWritten(written).prescription, joint);

/**
 * A protocol as typed, with the joint of `--joint` where it names none itself, and one number where it
 * gives a range of sets, holds, rests, sessions, weeks or ratings: `assumedOf` says which, and
 * `atBothEnds` what is so at the ends.
 *
 * @throws {CallError} pointing at the place in the text, or when text and option name two joints
 */
export const readProtocol = (written: string, joint: Joint | undefined): Prescription =>
  asAsked(asTyped(written, joint));

/** A prescription as the questions take it: one number for every range that they do not keep. */
export const asAsked = (p: Prescription): Prescription =>
  typicalOf(
    p,
    rangesOf(p).filter((field) => !rangesKept.includes(field)),
  );

/** What the reading of a protocol assumed, in a sentence; none where nothing was. */
export const assumedOf = (written: string): readonly string[] => {
  const { prescription, taken } = readWritten(written);
  const one = typicalOf(prescription);
  const middles = rangesOf(prescription)
    .filter((field) => !rangesKept.includes(field))
    .map(
      (field) =>
        `${fieldWords[field]} ${String(prescription[field])} to ${String(prescription[rangeFields[field]])} taken as ${String(one[field])}`,
    );
  const all = [...taken, ...middles];
  return all.length === 0 ? [] : [`Read with what it does not say: ${all.join("; ")}.`];
};

/** What is so of the lightest and of the heaviest session that a protocol's ranges allow, a sentence each. */
export const atBothEnds = (
  written: string,
  joint: Joint | undefined,
  say: (p: Prescription) => string,
): readonly string[] => {
  const ends = rangeEnds(asTyped(written, joint));
  return ends === undefined
    ? []
    : [
        `At the lightest it allows (${writePrescription(ends.lightest)}): ${say(ends.lightest)}`,
        `At the heaviest (${writePrescription(ends.heaviest)}): ${say(ends.heaviest)}`,
      ];
};

/** The protocols of a small text file, one `name: written form` a line, each as a person would type it. */
export const writtenProtocols = (
  list: string,
): readonly Readonly<{ name: string; protocol: string }>[] =>
  protocolList(list).map(({ name, prescription }) => ({
    name,
    protocol: writePrescription(prescription),
  }));

/** A session laid out and judged, or the words for what it lacks. */
export type JudgedSession = Readonly<{
  timeline?: readonly TimelinePart[];
  assessment?: HoldAssessment;
  /** What it lacks to be laid out. */
  needs: readonly string[];
  /** Whether it can be held, in one line. */
  words: string;
}>;

/** Lays a session out and judges whether it can be held; says what is missing where it cannot. */
export const judgedSession = (p: Prescription, options: CanBeHeldOptions = {}): JudgedSession => {
  const needs = timelineNeeds(p);
  if (needs.length > 0)
    return {
      needs,
      words: `Whether it can be held cannot be said without ${needs.map((field) => fieldWords[field]).join(" and ")}.`,
    };
  const assessment = canBeHeld(p, options);
  return {
    needs,
    timeline: sessionTimeline(p),
    assessment,
    words: `Can it be held? ${holdAnswer(assessment)}`,
  };
};

/** Cautions in full, and shortened once a document has said them in full. */
export {
  cautionsFor,
  nothingShown,
  type CautionEntry,
  type CautionsBlock,
  type CautionsShown,
} from "../projection/cautions.js";
export type { StudiedAges } from "../projection/profile.js";

/** A protocol by the name it has among others. */
export type NamedPrescription = Readonly<{ name: string; prescription: Prescription }>;

/** The sessions to scale, those that can be laid out; none where none can. */
export const sessionsFigures = (
  title: string,
  sessions: readonly (NamedPrescription & Readonly<{ session: JudgedSession }>)[],
  id = "hold-strip",
): readonly NamedFigure[] => {
  const laid = sessions.flatMap(({ name, prescription, session: { timeline } }) =>
    timeline === undefined
      ? []
      : [
          {
            label: name,
            timeline,
            summary: `${shownDuration(tensionTimePerSessionSeconds(prescription))} of tension, ${shownDuration(timeline.at(-1)?.endSeconds ?? 0)} long`,
          },
        ],
  );
  return laid.length === 0 ? [] : [{ name: "sessions", data: { id, title, sessions: laid } }];
};

/** What is known of soreness after some protocols. */
export const sorenessOf = (protocols: readonly NamedPrescription[], id?: string): Table =>
  sorenessTable(
    protocols.map(({ name, prescription }) => ({ name, notes: sorenessNotes(prescription) })),
    id,
  );

/** The name of a single session in tables and figures. */
export const oneSession = "the session";

/** A single session drawn to scale. */
export const sessionFigure = (
  prescription: Prescription,
  session: JudgedSession,
  id?: string,
): readonly NamedFigure[] =>
  sessionsFigures(
    `A session of ${writePrescription(prescription)}`,
    [{ name: oneSession, prescription, session }],
    id,
  );
