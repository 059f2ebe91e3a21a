/** A figure's recipe: the question it answers and everything drawn in it, so that it can be made again and compared. */
import * as z from "zod";
import { CallError } from "../errors.js";
import { figuresAt, type NamedCard, type NamedFigure } from "../figures/figure-list.js";
import { unframed } from "../figures/frame.js";
import type { Answer } from "./answer.js";
import { questionIdOf } from "./ask.js";
import type { EvidenceSource } from "./evidence.js";
import { kebab, wordsOf } from "./option.js";
import type { Question } from "./question.js";
import { questionList, wordsOfToday, type QuestionId } from "./question-list.js";
import { readJson } from "./read-json.js";
import { holdbookVersion } from "./version.js";

/** Everything needed to make one figure again and to see whether it came out the same. */
export type FigureRecipe = Readonly<{
  /** Version of this form. */
  recipe: 2;
  /** Version of the program that made the figure. */
  holdbook: string;
  question: Readonly<{ id: string; options: Readonly<Record<string, unknown>> }>;
  /** Which bytes it rests on; null where it rests on no file. */
  file: EvidenceSource | null;
  headline: string;
  /** Everything drawn: rows, averages, intervals, words. */
  figure: Readonly<{ name: string; data: Readonly<Record<string, unknown>> & { id: string } }>;
}>;

/**
 * The recipe of a figure of an answer, or of its card.
 *
 * @source none: a form of this project
 */
export const figureRecipe = (
  { headline, data }: Pick<Answer, "headline" | "data">,
  { name, data: drawn }: NamedFigure | NamedCard,
): FigureRecipe => ({
  recipe: 2,
  holdbook: holdbookVersion,
  question: data.question,
  file: data.file,
  headline,
  figure: { name, data: unframed(drawn) },
});

/** The recipe as the text of a file. */
export const recipeText = (recipe: FigureRecipe): string => `${JSON.stringify(recipe, null, 1)}\n`;

const fingerprint = z.string().regex(/^[0-9a-f]{64}$/);

const form = z.strictObject({
  recipe: z.literal(2),
  holdbook: z.string(),
  question: z.strictObject({ id: z.string(), options: z.record(z.string(), z.unknown()) }),
  file: z.strictObject({ name: z.string(), fingerprint, invented: z.boolean() }).nullable(),
  headline: z.string(),
  figure: z.strictObject({ name: z.string(), data: z.looseObject({ id: z.string() }) }),
});

/** The form before this one: words of a command line, and the numbers plotted. */
const oldForm = z.object({
  recipe: z.literal(1),
  holdbook: z.string(),
  figure: z.object({ id: z.string(), title: z.string() }),
  data: z.object({ name: z.string(), fingerprint }).nullable(),
  command: z
    .array(
      z.union([
        z.string(),
        z.object({ input: z.literal("data") }),
        z.object({ input: z.literal("text"), text: z.string() }),
      ]),
    )
    .min(1),
  numbers: z.array(z.record(z.string(), z.union([z.string(), z.number(), z.null()]))),
});
type OldRecipe = z.infer<typeof oldForm>;

const refused = (got: string, hint?: string): CallError =>
  new CallError({
    code: "not-a-recipe",
    where: "reading a recipe",
    needs: "a recipe that was written beside a figure (figures/….recipe.json)",
    got,
    ...(hint === undefined ? {} : { try: hint }),
  });

const anew = "make the figure anew, and its recipe comes with it";

/** Which question made a figure of the report before recipes held questions. */
const reportQuestion = (id: string): Readonly<{ id: string; options: Record<string, unknown> }> => {
  const [, outcome, contrast] =
    /^(?:estimates|precision)-(.+)-(change-within-arm|against-control|between-arms)(?:-\d+)?$/.exec(
      id,
    ) ?? [];
  if (outcome !== undefined) return { id: "pool", options: { outcome, contrast } };
  if (id === "evidence-map") return { id: "check", options: {} };
  const [, family, on] = /^dose-(strength|size|tendon)-(.+)$/.exec(id) ?? [];
  if (on !== undefined) return { id: "dose", options: { outcome: family, on } };
  const [, own, named] =
    /^(joint-angle|time|equal-tension)-(?:course-|hold-length-|intensity-|effort-)?(.+)$/.exec(
      id,
    ) ?? [];
  if (own !== undefined) return { id: own, options: { outcome: named } };
  throw refused(`one of version 1 for the figure ${id}, which no question draws any more`, anew);
};

/** The question that the words of an old command line ask. */
const oldQuestion = async ({
  command: [first, ...rest],
  figure,
}: OldRecipe): Promise<ReadRecipe["question"]> => {
  const [name = "", ...words] = wordsOfToday([
    String(first),
    ...rest.flatMap((word) =>
      typeof word === "string" ? [word] : word.input === "text" ? [word.text] : [],
    ),
  ]);
  const asked =
    name === "report" || name === "start"
      ? reportQuestion(figure.id)
      : { id: questionIdOf(name), options: {} };
  const { options: shape } = (await questionList[
    questionIdOf(asked.id)
  ].load()) as unknown as Question;
  const options: Record<string, unknown> = { ...asked.options };
  const operands = Object.keys(shape).filter(
    (option) => wordsOf(shape[option] as never).operand !== undefined,
  );
  for (let place = 0; place < words.length; place += 1) {
    const word = words[place]!;
    if (!word.startsWith("--")) {
      const operand = operands[0];
      if (operand === undefined)
        throw refused(`one of version 1 with the word "${word}" that ${asked.id} takes no more`);
      const { operand: kind } = wordsOf(shape[operand] as never);
      options[operand] = kind === "many" ? [...((options[operand] as string[]) ?? []), word] : word;
      if (kind === "one") operands.shift();
      continue;
    }
    const option = Object.keys(shape).find((one) => `--${kebab(one)}` === word);
    if (option === undefined && first === "variables") {
      // Three other questions were asked through this one, and their options stood beside its own.
      place += 1;
      continue;
    }
    if (option === undefined)
      throw refused(
        `one of version 1 with the option ${word}, which ${asked.id} has no more`,
        anew,
      );
    const { value, repeats } = wordsOf(shape[option] as never);
    if (value === undefined) options[option] = true;
    else {
      place += 1;
      options[option] =
        repeats === true ? [...((options[option] as string[]) ?? []), words[place]] : words[place];
    }
  }
  return { id: questionIdOf(asked.id), options };
};

/** A recipe as it is followed, with what its figure showed. */
export type ReadRecipe = Omit<FigureRecipe, "recipe" | "file" | "headline" | "question"> &
  Readonly<{
    question: Readonly<{ id: QuestionId; options: Readonly<Record<string, unknown>> }>;
    file: Pick<EvidenceSource, "name" | "fingerprint"> | null;
    /** Null in recipes of the first form, which held the plotted numbers alone. */
    headline: string | null;
  }>;

/**
 * A recipe out of the text of its file; recipes of the first form are turned into the question they asked.
 *
 * Nothing in it is opened, run or followed: it holds a question with its options and what was drawn.
 *
 * @param text what `recipeText` wrote
 * @throws {CallError} "not-a-recipe", naming the part that is missing or of another form
 */
export const readRecipe = async (text: string): Promise<ReadRecipe> => {
  const value = readJson(text, refused);
  const version =
    typeof value === "object" && value !== null
      ? (value as { recipe?: unknown }).recipe
      : undefined;
  const problemOf = ({ issues: [issue] }: z.ZodError): CallError =>
    refused(
      `a recipe whose "${issue?.path.join(".") ?? ""}" is ${issue?.message.toLowerCase() ?? "of another form"}`,
    );
  if (version === 2) {
    const read = form.safeParse(value);
    if (!read.success) throw problemOf(read.error);
    const { question } = read.data;
    return { ...read.data, question: { ...question, id: questionIdOf(question.id) } };
  }
  if (version === 1) {
    const read = oldForm.safeParse(value);
    if (!read.success) throw problemOf(read.error);
    const { holdbook, figure, data, numbers } = read.data;
    return {
      holdbook,
      question: await oldQuestion(read.data),
      file: data,
      headline: null,
      figure: { name: "", data: { id: figure.id, rows: numbers } },
    };
  }
  throw refused(
    value === null || typeof value !== "object"
      ? "JSON that is not an object"
      : `an object whose "recipe" is ${JSON.stringify(version)?.slice(0, 40) ?? "absent"}`,
  );
};

/** The figure of an answer that a recipe is about, and what is compared of it; undefined where it is not drawn. */
export const figureOfRecipe = (
  recipe: ReadRecipe,
  { figures }: Pick<Answer, "figures">,
): Readonly<{ named: NamedFigure; drawn: unknown }> | undefined => {
  const { name, data } = recipe.figure;
  for (const named of figures) {
    if (name !== "" && named.name === name && named.data.id === data.id)
      return { named, drawn: unframed(named.data) };
    if (name === "") {
      const page = figuresAt("page", { all: true })(named).find(({ id }) => id === data.id);
      if (page !== undefined) return { named, drawn: { id: page.id, rows: page.data } };
    }
  }
  return undefined;
};
