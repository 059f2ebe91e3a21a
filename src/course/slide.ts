/** A slide of a course, the notes that go with it, and what the makers of slides share. */
import type { Answer } from "../answers/answer.js";
import type { BoundAsk } from "../answers/ask.js";
import type { Evidence } from "../answers/evidence.js";
import type { AnswerTo } from "../answers/question.js";
import type { QuestionOf } from "../answers/question-list.js";
import type { VariableRow } from "../dose/variable-table.js";
import { figuresAt, type NamedFigure } from "../figures/figure-list.js";
import { inventedWords } from "../figures/frame.js";
import type { NamedText } from "../figures/lines-figure.js";
import { sentencesOf } from "../figures/wrap-text.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import type { TrainedSession } from "./trained-sessions.js";

/** What stands on the page of notes of a slide. */
export type SlideNotes = Readonly<{
  /** The sentence to say. */
  say: string;
  /** The number with its interval, or why there is none. */
  number: string;
  /** What students ask, and the answer. */
  asked: string;
  reply: string;
  trap: string;
  /** Of next year's course: what moved since the older file. */
  moved?: string;
  /** How it was asked of the file, and whose rows stand behind it. */
  source: string;
}>;

export type Slide = Readonly<{
  id: string;
  /** The one message. */
  message: string;
  /** The whole slide as a picture. */
  figure: NamedFigure;
  notes: SlideNotes;
  /** Whether the file answers what the slide asks. */
  told: boolean;
}>;

/** A slide before its frame: a figure of an answer, or lines to set. */
export type SlideDraft = Readonly<{
  /** The figure's own title where left out. */
  message?: string;
  figure?: NamedFigure | undefined;
  lines?: readonly NamedText[];
  caption?: string;
  answer?: Answer | undefined;
  notes: Omit<SlideNotes, "source">;
  told?: boolean;
}>;

type To<Id extends Parameters<BoundAsk>[0]> = AnswerTo<QuestionOf<Id>>;

/** What every slide of a course is made from. */
export type Setting = Readonly<{
  ask: BoundAsk;
  evidence: Evidence;
  /** What the teacher wishes of the slides on sessions. */
  wishes: Readonly<{
    protocol?: string | undefined;
    compare?: readonly string[] | undefined;
    from: string;
    weeks: number;
  }>;
  brief: To<"brief">;
  /** The averages of every kind of outcome. */
  pool: To<"pool">;
  variables: To<"variables">;
  /** The kind of outcome spoken about. */
  lead: Readonly<{ id: string; label: string }>;
  /** What trials of the file trained, as far as it can be drawn to scale. */
  sessions: readonly TrainedSession[];
}>;

export type SlideMaker = (setting: Setting) => Promise<SlideDraft>;

/** An answer of any question as the one kind that slides keep. */
export const plainAnswer = (answer: object): Answer => answer as Answer;

/** An estimate with its interval, as the file's scale is read. */
export const shownValue = (
  value: Readonly<{ estimate: number; interval: Readonly<{ low: number; high: number }> }>,
  { data: { scale } }: Pick<Answer, "data">,
): string =>
  valueText(scaleDisplay((scale ?? "log-ratio-of-means") as Parameters<typeof scaleDisplay>[0]), {
    estimate: value.estimate,
    ...value.interval,
  });

/** The average of the kind of outcome spoken about as numbers; undefined where there is none. */
export const averageOf = ({ pool, lead }: Setting) => {
  const own = pool.data.groups.find(({ id }) => id === lead.id);
  return own !== undefined && "estimate" in own ? own : undefined;
};

/** The row of a variable for the kind of outcome spoken about. */
export const variableOf = ({ variables, lead }: Setting, name: string): VariableRow | undefined =>
  variables.data.rows.find((row) => row.axis.name === name && row.family === lead.label);

export const firstSentence = (text: string): string => sentencesOf(text)[0] ?? text;

/** Words as they stand in a command line, where quotation marks are needed. */
const word = (text: string): string =>
  /^[\w./-]+$/.test(text) ? text : `"${text.replaceAll('"', "")}"`;

/** How an answer is asked of its file at the command line. */
export const asTyped = ({ data: { question, file } }: Answer, given: readonly string[]): string => {
  const words = Object.entries(question.options).flatMap(([name, value]) => {
    if (name === "protocol")
      return (Array.isArray(value) ? value : [value]).map((one) => word(String(one)));
    return given.includes(name) && value !== undefined && typeof value !== "object"
      ? [`--${name.replace(/[A-Z]/g, (one) => `-${one.toLowerCase()}`)}`, word(String(value))]
      : [];
  });
  return ["holdbook", question.id, ...(file === null ? [] : [word(file.name)]), ...words].join(" ");
};

/** Studies named before the rest is counted. */
const namedStudies = 12;

/** Where an answer is from: its question, and the studies of its rows. */
export const sourceOf = ({ evidence }: Setting, answer: Answer | undefined): string => {
  if (answer === undefined) return `${evidence.source.name}, its rows as they stand.`;
  const lines = new Set(answer.data.rowsUsed);
  const studies = [
    ...new Set(
      evidence.records.rows.filter(({ line }) => lines.has(line)).map(({ study }) => study),
    ),
  ];
  const rest = studies.length - namedStudies;
  return `${asTyped(answer, ["outcome", "on", "from", "weeks", "goal"])}.${
    studies.length === 0
      ? ""
      : ` Rows of ${studies.slice(0, namedStudies).join(", ")}${rest > 0 ? ` and ${rest} more` : ""}.`
  }`;
};

/** A draft as a slide: what is no drawing is set as lines, and the source is named. */
export const slideFrom = (setting: Setting, id: string, draft: SlideDraft): Slide => {
  const { name, fingerprint, invented } = setting.evidence.source;
  const source = `${name}, fingerprint ${fingerprint.slice(0, 8)}.`;
  const figure: NamedFigure = draft.figure ?? {
    name: "lines",
    data: {
      id: `course-${id}`,
      title: draft.message ?? id,
      rows: draft.lines ?? [],
      caption: draft.caption ?? "",
    },
  };
  const { told = true } = draft;
  // What is worked out from a session alone takes nothing from the file, invented or not.
  const ofFile = draft.answer === undefined || draft.answer.data.file !== null;
  const framed = {
    ...figure,
    data: {
      ...figure.data,
      id: `course-${id}`,
      ...(ofFile ? { source } : {}),
      ...(ofFile && invented ? { invented } : {}),
      ...(draft.message === undefined ? {} : { sentence: draft.message }),
    },
  } as NamedFigure;
  return {
    id,
    message: draft.message ?? framed.data.sentence ?? figuresAt("slide")(framed)[0]?.title ?? id,
    figure: framed,
    notes: {
      ...draft.notes,
      say: ofFile && invented ? `${draft.notes.say} ${inventedWords}` : draft.notes.say,
      source: sourceOf(setting, draft.answer),
    },
    told,
  };
};
