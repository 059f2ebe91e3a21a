/** What every question gives: words, tables, drawings still to be drawn, doubts, and plain data. */
import * as z from "zod";
import { CallError, type Note, type Refusal } from "../errors.js";
import type { NamedFigure } from "../figures/figure-list.js";
import type { CautionsBlock } from "../projection/cautions.js";
import type { Prescription } from "../protocol/prescription.js";
import type { Table } from "../tables/table.js";
import type { EvidenceSource } from "./evidence.js";
import type { Untold } from "./reading-list.js";

/** Version of the form of `Answer.data`; raised when a name that scripts lean on changes its meaning. */
export const answerVersion = 1;

/** Cautions without the state that serves one document only. */
export type AnswerCautions = Omit<CautionsBlock, "shown">;

/** What every answer's data carries, whatever was asked. */
export type AnswerData = Readonly<{
  version: typeof answerVersion;
  /** The question as it was understood: every option, defaults included. */
  question: Readonly<{ id: string; options: Readonly<Record<string, unknown>> }>;
  /** Null where the question rests on no file. */
  file: EvidenceSource | null;
  /** Null where the answer is no comparison of outcomes. */
  scale: string | null;
  contrast: string | null;
  /** Coverage of the intervals; null where the answer has none. */
  confidence: number | null;
  /** Lines of the file whose rows stand behind the answer, as outcome or comparator. */
  rowsUsed: readonly number[];
  /** Doubts about those rows and about the answer itself. */
  doubts: readonly Note[];
  /** Why there is no answer; null where there is one. */
  refusal: Refusal | null;
  /** Those of the answer, so that data that travel alone carry them; null where it names no protocol. */
  cautions: AnswerCautions | null;
}>;

/** A document for paper that comes with an answer, whole in itself. */
export type Sheet = Readonly<{
  /** Its file. */
  name: string;
  /** What it is, as in "the sheet to print". */
  title: string;
  html: string;
}>;

/** What a question gives: words, tables, figures still to be drawn, doubts, cautions, and plain data. */
export type Answer<Data extends object = Readonly<Record<string, unknown>>> = Readonly<{
  /** The one sentence to take away: the number with its interval, or what is missing for one. */
  headline: string;
  /** Further sentences, in the order they are read. */
  sentences: readonly string[];
  tables: readonly Table[];
  /** Name and data of each figure; a surface that shows it draws it with `drawnFigure`. */
  figures: readonly NamedFigure[];
  notes: readonly Note[];
  /** Stands wherever the answer names a protocol. */
  cautions: AnswerCautions | null;
  /** Documents for paper; most answers have none. */
  sheets: readonly Sheet[];
  /** Plain JSON: survives a worker, a file, a comparison of two runs. */
  data: AnswerData & Data;
}>;

/** An answer before its data are made plain; what is left out is empty. */
export type AnswerDraft<Data extends object> = Pick<Answer, "headline"> &
  Partial<Pick<Answer, "sentences" | "tables" | "figures" | "notes" | "sheets">> &
  Readonly<{
    /** Protocols it names: their cautions come with it. None named, but meant, brings every caution. */
    prescriptions?: readonly Prescription[];
    data: Data & Partial<Pick<AnswerData, "scale" | "contrast" | "confidence" | "rowsUsed">>;
    refusal?: Refusal | undefined;
    /** What the file cannot tell of what was asked; trials to read first are named for it. */
    untold?: readonly Untold[];
  }>;

/**
 * A value as plain JSON: undefined fields are dropped, unlimited degrees of freedom become null.
 *
 * @throws {CallError} "not-plain" for a function, a symbol or a not-a-number, with its place
 */
export const plainJson = <Value>(value: Value, place = "answer"): Value => {
  // What stands twice, in the data and in a figure, is copied once: a moved slider waits for this.
  const copies = new Map<object, unknown>();
  const path = [place];
  const own = { enumerable: true, configurable: true, writable: true };
  const copyOf = (entry: object): unknown => {
    if (Array.isArray(entry))
      return entry.map((one: unknown, index) =>
        one === undefined ? null : plain(one, String(index)),
      );
    if (Object.getPrototypeOf(entry) !== Object.prototype)
      throw notPlain(path, "an object with a life of its own");
    const fields: Record<string, unknown> = {};
    for (const key of Object.keys(entry)) {
      const one = (entry as Readonly<Record<string, unknown>>)[key];
      if (one === undefined) continue;
      const value = plain(one, key);
      // A column may be called anything: this name alone would set what the copy inherits.
      if (key === "__proto__") Object.defineProperty(fields, key, { ...own, value });
      else fields[key] = value;
    }
    return fields;
  };
  const plain = (entry: unknown, key: string): unknown => {
    if (entry === null || typeof entry === "string" || typeof entry === "boolean") return entry;
    if (typeof entry === "number" && !Number.isNaN(entry))
      return Number.isFinite(entry) ? entry : null;
    path.push(key);
    if (typeof entry !== "object")
      throw notPlain(path, typeof entry === "number" ? "a not-a-number" : `a ${typeof entry}`);
    const known = copies.get(entry);
    const copy = known ?? copyOf(entry);
    if (known === undefined) copies.set(entry, copy);
    path.pop();
    return copy;
  };
  return copyOf(value as object) as Value;
};

const notPlain = (path: readonly string[], got: string): CallError =>
  new CallError({ code: "not-plain", where: path.join("."), needs: "plain JSON", got });

const note = z.looseObject({ code: z.string(), message: z.string() });
const refusal = z.looseObject({
  kind: z.literal("refusal"),
  code: z.string(),
  reason: z.string(),
  try: z.string().optional(),
});

export const intervalSchema = z.object({ low: z.number(), high: z.number() });
export const noteSchema = note;
export const refusalSchema = refusal;
/** Of a part that is told or refused: its `kind` says which. */
export const toldOrRefusedShape = {
  kind: z.enum(["told", "refusal"]),
  refusal: refusal.optional(),
};

const column = z.object({
  key: z.string(),
  label: z.string(),
  unit: z.string().optional(),
  align: z.enum(["left", "right"]),
});

const table = z.object({
  id: z.string(),
  title: z.string(),
  place: z.enum(["folded", "file"]).optional(),
  columns: z.array(column),
  narrowColumns: z.array(column).optional(),
  csvColumns: z.array(column.pick({ key: true, align: true })).optional(),
  rows: z.array(z.record(z.string(), z.string())),
  notes: z.array(z.string()),
});

const cautions = z
  .looseObject({ title: z.string(), entries: z.array(z.looseObject({ id: z.string() })) })
  .nullable();

/**
 * The form of an answer whose own data has the given fields, for `shared/answer.schema.json` and the tests.
 *
 * @param own fields of the question's own data
 */
export const answerSchema = (own: z.ZodRawShape) =>
  z.object({
    headline: z.string().min(1),
    sentences: z.array(z.string()),
    tables: z.array(table),
    figures: z.array(z.object({ name: z.string(), data: z.looseObject({ id: z.string() }) })),
    notes: z.array(note),
    cautions,
    sheets: z.array(z.object({ name: z.string(), title: z.string(), html: z.string() })),
    data: z.object({
      version: z.literal(answerVersion),
      question: z.object({ id: z.string(), options: z.record(z.string(), z.unknown()) }),
      file: z
        .object({ name: z.string(), fingerprint: z.string(), invented: z.boolean() })
        .nullable(),
      scale: z.string().nullable(),
      contrast: z.string().nullable(),
      confidence: z.number().nullable(),
      rowsUsed: z.array(z.number()),
      doubts: z.array(note),
      refusal: refusal.nullable(),
      cautions,
      ...own,
    }),
  });
