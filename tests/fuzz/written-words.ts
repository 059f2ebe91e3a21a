/** Protocols and command lines as people, and people in a hurry, write them. */
import { defaultOf, kebab, wordsOf } from "../../src/answers/option.js";
import type { Question } from "../../src/answers/question.js";
import { questionIds, questionList } from "../../src/answers/question-list.js";
import type { RandomStream } from "../../src/numeric/random-stream.js";
import { hostile } from "./damaged-file.js";

const pick = <One>(random: RandomStream, items: readonly One[]): One =>
  items[random.integer(items.length)]!;

const numbers = [
  "0",
  "1",
  "3",
  "4",
  "5",
  "12",
  "30",
  "45",
  "70",
  "95",
  "100",
  "150",
  "1e9",
  "9".repeat(30),
];
const moreNumbers = ["-3", "0.5", "2.5", "1,5", "½", "٤", "NaN", "1e999", "5-10", "four"];
const pieces = [
  ...[
    "x",
    "×",
    "*",
    "by",
    "(",
    ")",
    "((",
    "at",
    "@",
    "%",
    " %",
    "% MVC",
    "s",
    "sec",
    "min",
    "h",
    "ms",
  ],
  ...[
    ",",
    ";",
    "rest",
    "between sets",
    "between holds",
    "3/week",
    "12 weeks",
    "per week",
    "sets of",
  ],
  ...[
    "long",
    "middle",
    "short",
    "knee",
    "elbow",
    "max",
    "maximal",
    "effort 8",
    "RPE 8",
    "60°",
    "90 deg",
  ],
  ...["", " ", "\n", "\t", "->", "to", "-", "−", "/", ":", "then", "+", "|"],
];

/** A protocol: a sound one with some of its pieces changed, or pieces thrown together. */
export const writtenProtocol = (random: RandomStream): string => {
  const number = (): string => pick(random, random.integer(3) === 0 ? moreNumbers : numbers);
  const one = (...sound: readonly string[]): string => pick(random, sound);
  const piece = (): string => pick(random, pieces);
  if (random.integer(4) === 0)
    return Array.from({ length: 1 + random.integer(14) }, () =>
      random.integer(2) === 0 ? number() : piece(),
    ).join(pick(random, ["", " "]));
  const sound = `${one("3", "4", "20")} x (${one("1", "5", "6")} x ${one("3", "5", "30", "2.5")} s) at ${one("30", "70", "95", "100")}%, rest ${one("0", "15", "90")} s, ${one("1", "2")} min between sets, ${one("2", "3", "5")}/week, ${one("4", "8", "12")} weeks, ${one("long", "short")}, knee`;
  const words = sound.split(" ");
  for (let left = random.integer(5); left > 0; left -= 1)
    words[random.integer(words.length)] =
      random.integer(12) === 0
        ? pick(random, hostile)
        : random.integer(2) === 0
          ? number()
          : piece();
  return words.join(" ");
};

const others = [
  "template",
  "codebook",
  "import",
  "references",
  "reproduce",
  "notebok",
  "--help",
  "",
];

/** Values that an option takes, beside its default. */
const sound: Readonly<Record<string, readonly string[]>> = {
  outcome: ["strength", "size", "tendon", "power"],
  contrast: ["against-control", "change-within-arm", "between-arms"],
  confidence: ["0.8", "0.95", "0.9999"],
  where: ["study=Ash 2019", "weeks>4", "outcome_family=strength", "hold_seconds<=5"],
  on: ["holdSeconds", "intensity-percent", "weeks"],
  by: ["outcome_family", "muscle_group", "study", "weeks"],
  joint: ["knee", "elbow"],
  scale: ["log-ratio-of-means", "raw-mean-difference", "standardised-mean-change"],
  correlation: ["0", "0.5", "0.99"],
  at: ["5,30", "60", "0,1e6"],
};

/** A command line on one of some files; nothing in it writes. */
export const commandLine = async (
  random: RandomStream,
  files: readonly string[],
): Promise<readonly string[]> => {
  const id = pick(random, questionIds);
  const { options } = (await questionList[id].load()) as unknown as Question;
  const shape = Object.entries(options);
  const words: string[] = [random.integer(15) === 0 ? pick(random, others) : id];
  if (questionList[id].needs === "file" || random.integer(10) === 0)
    words.push(pick(random, files));
  for (const [name, schema] of shape) {
    const { operand } = wordsOf(schema as never);
    if (operand !== undefined)
      for (let left = operand === "many" ? random.integer(4) : 1; left > 0; left -= 1)
        words.push(
          random.integer(3) === 0
            ? writtenProtocol(random)
            : "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee",
        );
    else if (random.integer(2 * shape.length) < 3) {
      words.push(`--${kebab(name)}`);
      const { value } = wordsOf(schema as never);
      const standard = [defaultOf(schema as never)].flatMap((value) =>
        typeof value === "string" || typeof value === "number" ? [String(value)] : [],
      );
      const labels = Object.keys(wordsOf(schema as never).labels ?? {});
      if (value !== undefined || random.integer(20) === 0)
        words.push(
          pick(random, [
            ...(sound[name] ?? []),
            ...(sound[name] ?? []),
            ...(sound[name] === undefined ? standard : []),
            pick(random, [...numbers, ...moreNumbers, ...hostile.slice(0, 3)]),
            ...labels,
          ]),
        );
    }
  }
  for (const extra of ["--json", "--all", "--quiet"])
    if (random.integer(4) === 0) words.push(extra);
  return words;
};
