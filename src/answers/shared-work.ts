/**
 * Long work of an answer, shared with who can help: other threads at the command line, other workers in the page. What
 * crosses is plain data, pieces of work in and results out, and nothing here knows where they are done.
 */
import type { z } from "zod";
import type { Evidence } from "./evidence.js";
import { resolvedOptions } from "./option.js";
import { preparedFor } from "./prepared.js";
import type { Options, Question, Sharing, Tell } from "./question.js";

/** A question and a file as those need them who help with it. */
export type Task = Readonly<{
  question: string;
  /** As they were given: text and plain values. */
  options: Readonly<Record<string, unknown>>;
  evidence: Evidence;
}>;

/** Who does one piece at a time, elsewhere. */
export type Helper = Readonly<{
  /** Settles once the file is open there; until then nothing is asked of it. */
  ready: Promise<unknown>;
  /** What a piece comes to; rejects where it cannot be done there. */
  work: (piece: unknown) => Promise<unknown>;
}>;

/** Where help comes from. */
export type Help = Readonly<{
  /** Those who begin to open a file for a task. */
  begin: (task: Task) => readonly Helper[];
  /** Lets those who help be heard. */
  pause: () => Promise<void>;
  /** Sends away those who were begun. */
  end: () => void;
}>;

/** Pieces dealt out so that everyone has neighbours; who has done its own takes the last of the longest run. */
const dealt = <Piece>(pieces: readonly Piece[], hands: number) => {
  const runs = Array.from({ length: hands }, (_, hand) =>
    pieces.slice(
      Math.round((hand * pieces.length) / hands),
      Math.round(((hand + 1) * pieces.length) / hands),
    ),
  );
  return (hand: number): Piece | undefined =>
    runs[hand]!.shift() ??
    runs.reduce((longest, run) => (run.length > longest.length ? run : longest)).pop();
};

/**
 * Nothing; every piece is kept afterwards. Whoever asks does pieces from the first moment and helpers join when they are
 * ready, so no one waits for them. When none is left to begin, what a helper still holds is done here too and the first
 * result counts: a helper that is lost costs time and nothing else.
 *
 * @param here what a piece comes to, done by who asks; what it throws ends the work
 */
export const sharedOut = async <Piece>(
  pieces: readonly Piece[],
  here: (piece: Piece) => unknown,
  keep: (piece: Piece, result: unknown) => void,
  helpers: readonly Helper[],
  pause: Help["pause"],
): Promise<void> => {
  const next = dealt(pieces, helpers.length + 1);
  const open = new Set(pieces);
  const take = (piece: Piece, result: unknown): void => {
    if (open.delete(piece)) keep(piece, result);
  };
  const lend = async ({ ready, work }: Helper, hand: number): Promise<void> => {
    await ready;
    for (let piece = next(hand); piece !== undefined; piece = next(hand))
      take(piece, await work(piece));
  };
  for (const [place, helper] of helpers.entries())
    // What it was given stays open, and is done here.
    lend(helper, place + 1).catch(() => undefined);
  while (open.size > 0) {
    const piece = next(0) ?? [...open][0]!;
    take(piece, here(piece));
    await pause();
  }
};

/**
 * Nothing; what of a question's work can be shared is done, and kept where the answer finds it.
 *
 * @param given options as they were given, without files among them
 */
export const shareWork = async <Shape extends z.ZodRawShape, Prepared, Data extends object>(
  asked: Question<Shape, Prepared, Data>,
  evidence: Evidence | undefined,
  given: Readonly<Record<string, unknown>>,
  tell: Tell,
  help: Help | undefined,
): Promise<void> => {
  const sharing = asked.sharing as Sharing<Options<Shape>, Prepared> | undefined;
  if (sharing === undefined || evidence === undefined || help === undefined) return;
  const options = resolvedOptions(asked.options, given);
  const prepared = preparedFor(asked, evidence, options, tell);
  let helpers: readonly Helper[] | undefined;
  try {
    for (;;) {
      const pieces = sharing.pieces(prepared, options) as readonly never[];
      if (pieces.length === 0) return;
      helpers ??= help.begin({ question: asked.id, options: given, evidence });
      await sharedOut<never>(
        pieces,
        (piece) => sharing.done(prepared, options, piece),
        (piece, result) => {
          sharing.keep(prepared, options, piece, result as never);
          tell(sharing.told(prepared, options));
        },
        helpers,
        help.pause,
      );
    }
  } finally {
    if (helpers !== undefined) help.end();
  }
};

/** What a piece of a task comes to, for who helps; the file stays open between pieces. */
export const taskDone = (
  asked: Question,
  { options, evidence }: Task,
): ((piece: unknown) => unknown) => {
  const resolved = resolvedOptions(asked.options, options);
  const prepared = preparedFor(asked, evidence, resolved);
  return (piece) => asked.sharing?.done(prepared as never, resolved as never, piece as never);
};
