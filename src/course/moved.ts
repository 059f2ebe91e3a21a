/** What moved in a course since an older file: on which slide, and which study did it. */
import { olderOf, type Change } from "../answers/changes-between.js";
import type { OlderFile } from "../answers/older-file.js";
import { firstSentence, type Setting, type Slide } from "./slide.js";

/** One thing that moved, in words as both files print it. */
export type Moved = Readonly<{
  /** The place of its slide; undefined where none shows it. */
  place?: number;
  about: string;
  before: string;
  now: string;
  /** The study whose changed rows move it most; empty where that cannot be told. */
  by: string;
}>;

/** What is new since an older file. */
export type Since = Readonly<{
  name: string;
  headline: string;
  /** Studies whose rows came, went or were edited, in words. */
  studies: readonly Readonly<{ study: string; what: string }>[];
  moved: readonly Moved[];
}>;

/** Variables whose verdict a slide is about; the slide on all of them takes what is left. */
const axesOf: Readonly<Record<string, readonly string[]>> = {
  intensity: ["intensityPercent"],
  "hold-length": ["holdSeconds"],
  "equal-tension": ["tensionTimePerSessionSeconds"],
  "joint-angle": ["muscleLength", "trainingAngleDegrees"],
  weeks: ["weeks"],
};

type Told = Pick<Change, "causes"> &
  Readonly<{
    kind: string;
    id: string;
    about: string;
    before: Readonly<{ words: string }> | null;
    now: Readonly<{ words: string }> | null;
  }>;

/** The slide that shows a conclusion: averages, ratings and statements have one each, a verdict that of its variable. */
const slideFor = (
  { kind, id }: Told,
  slides: readonly Slide[],
  { id: outcome, label }: Setting["lead"],
): number | undefined => {
  const placeOf = (name: string): number | undefined => {
    const at = slides.findIndex((slide) => slide.id === name);
    return at < 0 ? undefined : at;
  };
  if (kind === "statement") return placeOf("statements");
  if (kind !== "verdict")
    return id.endsWith(` ${outcome}`) ? placeOf(kind === "rating" ? "sure" : "average") : undefined;
  const axis = id.slice(id.lastIndexOf(" ") + 1);
  if (!id.endsWith(` ${label} ${axis}`)) return undefined;
  const own = Object.keys(axesOf).find((name) => axesOf[name]!.includes(axis));
  return (own === undefined ? undefined : placeOf(own)) ?? placeOf("within-between");
};

/** Two texts by their first sentences, where these differ already. */
const apart = (before: string, now: string): Pick<Moved, "before" | "now"> => {
  const [old, young] = [firstSentence(before), firstSentence(now)];
  const [a, b] = old === young ? [before, now] : [old, young];
  return { before: a.replace(/\.$/, ""), now: b.replace(/\.$/, "") };
};

/**
 * What moved, slide by slide.
 *
 * Conclusions come from the answer to `changes`; a slide without one moved where the number in its notes is another in the
 * course on the older file.
 *
 * @param olderSlides of the course on the older file; undefined where its rows are not known
 */
export const sinceOlder = async (
  { ask, evidence, lead }: Setting,
  older: OlderFile,
  slides: readonly Slide[],
  olderSlides: readonly Slide[] | undefined,
): Promise<Since> => {
  const { data, headline, tables } = await ask("changes", { older });
  const { name } = olderOf(older);
  const conclusions = data.changes
    .filter(({ isMoved }) => isMoved)
    .map((change): Moved => {
      const place = slideFor(change, slides, lead);
      return {
        ...(place === undefined ? {} : { place }),
        about: change.about,
        before: change.before?.words ?? "none",
        now: change.now?.words ?? "none",
        by: change.causes[0]?.study ?? "",
      };
    });
  const told = new Set(conclusions.map(({ place }) => place));
  const numbers = slides.flatMap(({ id, message, notes }, place): readonly Moved[] => {
    const before = olderSlides
      ?.find((one) => one.id === id)
      ?.notes.number.replaceAll(name, evidence.source.name);
    return told.has(place) || before === undefined || before === notes.number
      ? []
      : [{ place, about: message, ...apart(before, notes.number), by: "" }];
  });
  const rows = tables.find(({ id }) => id === "changed-studies")?.rows ?? [];
  return {
    name,
    headline,
    studies: rows.map(({ study = "", columns = "", ...counts }) => ({
      study,
      what: [
        ...["added", "removed", "edited"].flatMap((kind) =>
          counts[kind] === "0" ? [] : [`${counts[kind]} ${kind}`],
        ),
        ...(columns === "" ? [] : [`in ${columns}`]),
      ].join(", "),
    })),
    moved: [...conclusions, ...numbers].sort(
      (a, b) => (a.place ?? Infinity) - (b.place ?? Infinity),
    ),
  };
};

/** What moved as a teacher reads it in a note. */
const movedWords = ({ about, before, now, by }: Moved): string =>
  `${about}: ${before} before, ${now} now${by === "" ? "" : `; ${by} moves it most`}.`;

/** A page of notes has room for so many. */
const mostInNote = 3;

/** Slides with a line in the notes of each whose number moved. */
export const withMoved = (slides: readonly Slide[], { moved, name }: Since): readonly Slide[] =>
  slides.map((slide, place) => {
    const own = moved.filter((one) => one.place === place);
    return own.length === 0
      ? slide
      : {
          ...slide,
          notes: {
            ...slide.notes,
            moved: [
              `Since ${name}:`,
              ...own.slice(0, mostInNote).map(movedWords),
              ...(own.length > mostInNote ? [`${own.length - mostInNote} more moved here.`] : []),
            ].join(" "),
          },
        };
  });
