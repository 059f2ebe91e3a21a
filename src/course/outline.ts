/** The outline of a course: what a teacher may change, as a small file of JSON. */
import * as z from "zod";
import { questionIdOf } from "../answers/ask.js";
import { questionList } from "../answers/question-list.js";
import { readJson } from "../answers/read-json.js";
import { CallError } from "../errors.js";
import { nearestWord } from "../protocol/nearest-word.js";
import { slideTopics } from "./slide-topics.js";

const text = z.string().trim().min(1);

const slideSchema = z.strictObject({
  /** One of the slides that come with Holdbook. */
  slide: text.optional(),
  /** Or any question of Holdbook, with its options. */
  question: text.optional(),
  options: z.record(z.string(), z.unknown()).optional(),
  /** The message, where the slide's own is not wanted. */
  title: text.optional(),
  /** The sentence to say, what students ask, and the trap, where a teacher has better ones. */
  say: text.optional(),
  asked: text.optional(),
  trap: text.optional(),
});

const outlineSchema = z.strictObject({
  title: text.optional(),
  /** The kind of outcome spoken about; the first that has an average where left out. */
  outcome: text.optional(),
  /** Sessions as a coach writes them; those that trials of the file trained where left out. */
  protocol: text.optional(),
  compare: z.array(text).min(2).max(6).optional(),
  from: text.default("deconditioned"),
  weeks: z.number().int().min(1).max(52).default(8),
  slides: z.array(slideSchema).min(1),
});

export type Outline = z.infer<typeof outlineSchema>;
export type OutlineSlide = Outline["slides"][number];

/** Every slide, in the order of the course. */
export const defaultOutline: Outline = {
  from: "deconditioned",
  weeks: 8,
  slides: Object.keys(slideTopics).map((slide) => ({ slide })),
};

/** An outline as a teacher edits it. */
export const outlineText = (outline: Outline): string => `${JSON.stringify(outline, null, 2)}\n`;

const refuse = (needs: string, got: string, hint?: string): CallError =>
  new CallError({
    code: "bad-outline",
    where: "the outline",
    needs,
    got,
    ...(hint === undefined ? {} : { try: hint }),
  });

/** Where a problem is, in words: "slide 3, title". */
const placeOf = (path: readonly PropertyKey[]): string =>
  path
    .map((part) => (typeof part === "number" ? String(part + 1) : String(part)))
    .join(", ")
    .replace(/^slides, (\d+)/, "slide $1");

const knownFields = Object.keys({ ...outlineSchema.shape, ...slideSchema.shape });

const checkedSlide = ({ slide, question, options }: OutlineSlide, place: number): void => {
  const where = `slide ${place + 1}`;
  if ((slide === undefined) === (question === undefined))
    throw refuse(
      `"slide" or "question" in ${where}, one of the two`,
      slide === undefined ? "neither" : "both",
    );
  if (question !== undefined) {
    const { needs } = questionList[questionIdOf(question)];
    if (needs === "nothing" && options?.["protocol"] === undefined)
      throw refuse(
        `the session that ${where} asks about`,
        "none",
        `write "options": {"protocol": "4 x 20 s at 70%, rest 60 s"}`,
      );
    return;
  }
  if (options !== undefined)
    throw refuse(`options in ${where} beside a "question"`, `options beside the slide "${slide}"`);
  if (!Object.hasOwn(slideTopics, slide!)) {
    const near = nearestWord(slide!, Object.keys(slideTopics));
    throw refuse(
      `one of ${Object.keys(slideTopics).join(", ")} in ${where}`,
      `"${slide}"`,
      near === undefined ? undefined : `did you mean ${near}?`,
    );
  }
};

/**
 * The outline a teacher edited, checked.
 *
 * @param json the text of the file
 * @throws {CallError} "bad-outline", with the place and the mend
 * @source none: a reading
 */
export const readOutline = (json: string): Outline => {
  const read = outlineSchema.safeParse(readJson(json, (found) => refuse("a file of JSON", found)));
  if (!read.success) {
    const [issue] = read.error.issues;
    const where = placeOf(issue!.path);
    if (issue!.code === "unrecognized_keys") {
      const [key = ""] = issue.keys;
      const near = nearestWord(key, knownFields);
      throw refuse(
        `only fields it knows${where === "" ? "" : ` in ${where}`}`,
        `"${key}"`,
        near === undefined ? undefined : `did you mean ${near}?`,
      );
    }
    throw refuse(
      where === "" ? "an object with slides" : `another value at ${where}`,
      issue!.message.charAt(0).toLowerCase() + issue!.message.slice(1),
      `the outline written beside each course shows the form`,
    );
  }
  read.data.slides.forEach(checkedSlide);
  return read.data;
};
