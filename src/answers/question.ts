/** A question that can be asked of a file or of a protocol, and how it is answered. */
import type { z } from "zod";
import type { Answer, AnswerDraft } from "./answer.js";
import type { Evidence } from "./evidence.js";

/** Says how far longer work is. */
export type Tell = (line: string) => void;

/** The part of a question's work that others may share. */
export type Sharing<Asked, Prepared> = Readonly<{
  /**
   * What is left to do, in pieces of about one length, neighbours resting on the same effects; asked again when all of it
   * is kept. None where sharing would not pay.
   */
  pieces: (prepared: Prepared, options: Asked) => readonly unknown[];
  /** What a piece comes to, wherever the same was prepared. */
  done: (prepared: Prepared, options: Asked, piece: never) => unknown;
  /** Takes in what a piece came to. */
  keep: (prepared: Prepared, options: Asked, piece: never, result: never) => void;
  /** How far the work is, in words. */
  told: (prepared: Prepared, options: Asked) => string;
}>;

/** A question asked from within another. */
export type Question<
  Shape extends z.ZodRawShape = z.ZodRawShape,
  Prepared = unknown,
  Data extends object = object,
> = Readonly<{
  /** As it is typed, kebab-case. */
  id: string;
  /** Every option with its default. */
  options: Shape;
  /** Options of the moment: changing them asks nothing new of the file. */
  choices: readonly (keyof Shape)[];
  /** Fields of the answer's own data. */
  data: z.ZodRawShape;
  /** Fits what the file and the options allow; may hold functions, and never leaves its thread. */
  prepare: (evidence: Evidence, options: Options<Shape>, tell: Tell) => Prepared;
  answer: (prepared: Prepared, options: Options<Shape>, tell: Tell) => AnswerDraft<Data>;
  /** What of its work others may share before it is answered; its options and what is prepared are the question's own. */
  sharing?: Sharing<never, never>;
}>;

/** Options as a question gets them: read, checked, defaults in place. */
export type Options<Shape extends z.ZodRawShape> = z.output<z.ZodObject<Shape>>;

/** A question with its types inferred from what it is made of. */
export const question = <Shape extends z.ZodRawShape, Prepared, Data extends object>(
  asked: Question<Shape, Prepared, Data>,
): Question<Shape, Prepared, Data> => asked;

/** The answer a question gives. */
export type AnswerTo<Asked> =
  Asked extends Question<infer _Shape, infer _Prepared, infer Data> ? Answer<Data> : never;

/** The options a question may be given; any of them can be left out that has a default. */
export type OptionsFor<Asked> =
  Asked extends Question<infer Shape, infer _Prepared, infer _Data>
    ? Partial<Options<Shape>>
    : never;
