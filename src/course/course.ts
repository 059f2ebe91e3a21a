/** A course on a file: its slides with their notes, its quiz, what to read, and of invented data the truth. */
import { boundAsk, type BoundAsk } from "../answers/ask.js";
import { olderOf } from "../answers/changes-between.js";
import type { OlderFile } from "../answers/older-file.js";
import { usableRows, type Evidence } from "../answers/evidence.js";
import { plainWord } from "../answers/option.js";
import type { Tell } from "../answers/question.js";
import type { Help } from "../answers/shared-work.js";
import { questionIdOf } from "../answers/ask.js";
import { CallError } from "../errors.js";
import { nearestWord } from "../protocol/nearest-word.js";
import { defaultOutline, type Outline, type OutlineSlide } from "./outline.js";
import { sinceOlder, withMoved, type Since } from "./moved.js";
import { plainAnswer, slideFrom, type Setting, type Slide, type SlideDraft } from "./slide.js";
import { slideTopics } from "./slide-topics.js";
import { quizOf, type QuizItem } from "./quiz.js";
import { missesOf, truthSlides, type Miss } from "./truth.js";
import { trainedSessions } from "./trained-sessions.js";

export type Course = Readonly<{
  title: string;
  evidence: Evidence;
  outline: Outline;
  lead: Setting["lead"];
  slides: readonly Slide[];
  quiz: readonly QuizItem[];
  brief: Setting["brief"];
  /** Of invented data, what they were made from and how far the answers missed. */
  misses: readonly Miss[];
  /** What is new since an older file, where one was given. */
  since?: Since;
}>;

/** The kind of outcome spoken about: the one asked for, or the first with an average, or the first there is. */
const leadOf = (wanted: string | undefined, { brief, pool }: Pick<Setting, "brief" | "pool">) => {
  const groups = pool.data.groups.map(({ id, group }) => ({ id, label: group }));
  if (wanted === undefined) {
    const [first] = brief.data.goals;
    return first === undefined
      ? (groups[0] ?? { id: "strength", label: "strength" })
      : { id: first.id, label: first.outcome };
  }
  const found = groups.find(({ id, label }) => [id, plainWord(label)].includes(plainWord(wanted)));
  if (found !== undefined) return found;
  const near = nearestWord(
    plainWord(wanted),
    groups.map(({ id }) => id),
  );
  throw new CallError({
    code: "bad-outline",
    where: "the outline",
    needs: `an outcome of this file: ${groups.map(({ id }) => id).join(", ")}`,
    got: `"${wanted}"`,
    ...(near === undefined ? {} : { try: `did you mean ${near}?` }),
  });
};

/** A slide of the teacher's own: any question, its first figure or its sentences. */
const ownSlide = async (
  setting: Setting,
  { question, options }: OutlineSlide,
): Promise<SlideDraft> => {
  const answer = plainAnswer(await setting.ask(questionIdOf(question!), options ?? {}));
  const [figure] = answer.figures;
  return {
    figure,
    ...(figure === undefined ? { message: answer.headline } : {}),
    lines: answer.sentences.map((text) => ({ name: "", text })),
    answer,
    notes: {
      say: answer.headline,
      number: answer.headline,
      asked: `On how many rows of ${setting.evidence.source.name} does this rest?`,
      reply: `On ${answer.data.rowsUsed.length}.`,
      trap: answer.sentences[0] ?? answer.headline,
    },
    told: answer.data.refusal === null,
  };
};

/** Asks each question once: many slides and the quiz rest on the same answers. */
const remembered = (ask: BoundAsk): BoundAsk => {
  const made = new Map<string, Promise<never>>();
  return (id, options) => {
    if (options !== undefined && "older" in options) return ask(id, options);
    const key = `${id} ${JSON.stringify(options ?? {})}`;
    const answer = made.get(key) ?? (ask(id, options) as Promise<never>);
    made.set(key, answer);
    return answer;
  };
};

export type CourseOptions = Readonly<{
  outline?: Outline;
  shared?: Readonly<Record<string, unknown>>;
  since?: OlderFile;
  tell?: Tell | undefined;
  /** Who shares long work. */
  help?: Help | undefined;
}>;

/** The slides of the same course on the older file; undefined where its rows are not known or lack the outcome. */
const olderSlides = async (
  older: OlderFile,
  options: CourseOptions,
): Promise<readonly Slide[] | undefined> => {
  const { evidence } = olderOf(older);
  if (evidence === undefined) return undefined;
  try {
    return (await courseOn(evidence, options)).slides;
  } catch (error) {
    if (error instanceof CallError) return undefined;
    throw error;
  }
};

/**
 * The course on a file.
 *
 * @param outline from `readOutline`; every slide in its order where left out
 * @param shared  row filter, scale and assumptions for every question that takes them
 * @param since   an older file: what changed since then, and a line in each note whose number moved
 * @throws {DataError} when no row of the file can be used; {CallError} where the outline asks for what is not there
 * @source none: an order of answers
 */
export const courseOn = async (
  evidence: Evidence,
  { outline = defaultOutline, shared = {}, since, tell, help }: CourseOptions = {},
): Promise<Course> => {
  const rows = usableRows(evidence);
  const ask = remembered(boundAsk(evidence, shared, tell, help));
  const [brief, pool, variables] = [await ask("brief"), await ask("pool"), await ask("variables")];
  const lead = leadOf(outline.outcome, { brief, pool });
  const { rowsUsed } = (await ask("pool", { outcome: lead.id })).data;
  const setting: Setting = {
    ask,
    evidence,
    wishes: outline,
    brief,
    pool,
    variables,
    lead,
    sessions: trainedSessions(rows, rowsUsed),
  };
  const slides: Slide[] = [];
  for (const [place, wanted] of outline.slides.entries()) {
    const id = wanted.slide ?? wanted.question!;
    tell?.(`slide ${place + 1}, ${id}`);
    const draft =
      wanted.slide === undefined
        ? await ownSlide(setting, wanted)
        : await slideTopics[wanted.slide]!(setting);
    const { title, say, asked, trap } = wanted;
    const notes = Object.fromEntries(
      Object.entries({ say, asked, trap }).filter(([, text]) => text !== undefined),
    );
    slides.push(
      slideFrom(setting, slides.some((one) => one.id === id) ? `${id}-${place + 1}` : id, {
        ...draft,
        ...(title === undefined ? {} : { message: title }),
        notes: { ...draft.notes, ...notes },
      }),
    );
  }
  const misses = evidence.source.invented ? await missesOf(setting) : [];
  if (misses.length > 0)
    slides.push(
      ...truthSlides(setting, misses).map(({ id, ...draft }) => slideFrom(setting, id, draft)),
    );
  const told =
    since === undefined
      ? undefined
      : await sinceOlder(
          setting,
          since,
          slides,
          await olderSlides(since, {
            outline: { ...outline, outcome: lead.id },
            shared,
            tell,
            help,
          }),
        );
  return {
    title: outline.title ?? `Isometric dosing: ${evidence.source.name}`,
    evidence,
    outline,
    lead,
    slides: told === undefined ? slides : withMoved(slides, told),
    quiz: await quizOf(setting, slides),
    brief,
    misses,
    ...(told === undefined ? {} : { since: told }),
  };
};
