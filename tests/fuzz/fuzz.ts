/** Damaged files, written protocols and command lines by the thousand, and how each of them ended. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Answer } from "../../src/answers/answer.js";
import { ask } from "../../src/answers/ask.js";
import { openEvidence, type Evidence } from "../../src/answers/evidence.js";
import { runWords } from "../../src/command/run-words.js";
import { readTable } from "../../src/csv/read-table.js";
import { CallError, ConvergenceError, DataError } from "../../src/errors.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { randomStream, type RandomStream } from "../../src/numeric/random-stream.js";
import { reportFiles } from "../../src/report/report-files.js";
import { reportHtml } from "../../src/report/report-html.js";
import { placedAnswers } from "../../src/report/report-part.js";
import { reportOn } from "../../src/report/report-parts.js";
import { projectRoot } from "../house/source-tree.js";
import { damagedFile } from "./damaged-file.js";
import { commandLine, writtenProtocol } from "./written-words.js";

export const endings = ["ended well", "refused", "crashed", "slow", "machine word"] as const;
export type Ending = (typeof endings)[number];

/** How one case ended; `what` says what went wrong, where something did. */
type Ended = Readonly<{ ending: Ending; what?: string }>;

/** Cases of one kind, counted, with the seeds of those that went wrong. */
export type Counted = Readonly<{
  kind: string;
  counts: Readonly<Record<Ending, number>>;
  wrong: readonly Readonly<{ seed: number; ending: Ending; what: string }>[];
}>;

/**
 * A case runs away where it takes this long and this many times as long as the middle case of its run: a slow or busy
 * machine makes all of them longer, a case that grows without bound only itself.
 */
const mostMilliseconds = 5000;
const slowerThanMost = 40;
const machineWord =
  /\b(?:Infinity|NaN|undefined|null|TypeError|RangeError)\b|\[object |formatNumber|plainNumber/;

const wordIn = (texts: readonly string[]): string | undefined => {
  for (const text of texts) {
    const at = machineWord.exec(text)?.index;
    if (at !== undefined) return text.slice(Math.max(0, at - 80), at + 40);
  }
  return undefined;
};

/** Everything that a person reads of an answer. */
const readOf = (answer: Answer): readonly string[] => [
  answer.headline,
  ...answer.sentences,
  ...answer.notes.map(({ message }) => message),
  ...answer.tables.flatMap(({ title, notes, rows }) => [
    title,
    ...notes,
    ...rows.flatMap((row) => Object.values(row)),
  ]),
];

const figureTexts = (answer: Answer): readonly string[] =>
  answer.figures
    .flatMap(drawnFigures)
    .flatMap(({ title, caption, description }) => [title, caption, description]);

const saysMistake = (error: unknown): string =>
  error instanceof Error
    ? `${error.message.slice(0, 160)} ${(error.stack ?? "")
        .split("\n")
        .filter((line) => /^\s+at/.test(line))
        .slice(0, 3)
        .join(" ")}`
    : String(error);

/** A refusal in a sentence is well; a mistake of the program, or of one of its own calls, is not. */
const endingOf = (error: unknown, isExpected: (error: CallError) => boolean): Ended => {
  if (
    error instanceof DataError ||
    error instanceof ConvergenceError ||
    (error instanceof CallError && isExpected(error))
  ) {
    const word = wordIn([error.message.replace(/got ".*/s, "")]);
    return word === undefined ? { ending: "refused" } : { ending: "machine word", what: word };
  }
  return { ending: "crashed", what: saysMistake(error) };
};

const open = (bytes: Uint8Array): Evidence =>
  openEvidence({
    name: "damaged.csv",
    fingerprint: createHash("sha256").update(bytes).digest("hex"),
    table: readTable(bytes),
  });

const others = [
  "influence",
  "small-studies",
  "sweep",
  "made",
  "explore",
  "project",
  "compare",
] as const;
const session = "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee";

const fileCase = async (random: RandomStream): Promise<Ended> => {
  try {
    const evidence = open(damagedFile(random));
    const check = (await ask("check", {}, evidence)) as unknown as Answer;
    const texts = [...readOf(check)];
    const protocols = [{ name: "one", protocol: session }];
    const mistakes: unknown[] = [];
    const report = await reportOn(evidence, {}, random.integer(4) === 0 ? { protocols } : {}, {
      mistake: (error) => `mistake ${mistakes.push(error)}`,
    });
    if (mistakes.length > 0) throw mistakes[0];
    for (const { answer } of placedAnswers(report))
      texts.push(...readOf(answer), ...figureTexts(answer));
    reportFiles(report);
    reportHtml(report, new Map());
    const id = others[random.integer(others.length)]!;
    const asked =
      id === "project"
        ? { protocol: session }
        : id === "compare"
          ? { protocols: [session, "5 x 5 s at 90%, 3/week, 6 weeks, short, knee"] }
          : id === "sweep"
            ? { most: 4 }
            : {};
    try {
      const answer = (await ask(id, asked, evidence)) as unknown as Answer;
      texts.push(...readOf(answer), ...figureTexts(answer));
    } catch (error) {
      if (!(error instanceof CallError && error.where.startsWith("--"))) throw error;
    }
    const word = wordIn(texts);
    return word === undefined ? { ending: "ended well" } : { ending: "machine word", what: word };
  } catch (error) {
    return endingOf(error, () => false);
  }
};

const protocolCase = async (random: RandomStream): Promise<Ended> => {
  try {
    const id = random.integer(3) === 0 ? "ramp" : "hold";
    const protocol = writtenProtocol(random);
    const answer = (await ask(
      id,
      id === "hold" ? { protocol } : { protocol },
    )) as unknown as Answer;
    const word = wordIn([...readOf(answer), ...figureTexts(answer)]);
    if (word !== undefined) return { ending: "machine word", what: word };
    return { ending: answer.data.refusal === null ? "ended well" : "refused" };
  } catch (error) {
    return endingOf(error, () => true);
  }
};

const files = [
  "demo-register.csv",
  "published-outcomes.csv",
  "ready-effects-example.csv",
  "nothing.csv",
].map((name) => join(projectRoot, "data", name));
const opened = new Map<string, Evidence>();
const openOnce = (path: string): Promise<Evidence> => {
  const evidence = opened.get(path) ?? open(readFileSync(path));
  opened.set(path, evidence);
  return Promise.resolve(evidence);
};

const commandCase = async (random: RandomStream): Promise<Ended> => {
  const words = await commandLine(random, files);
  let mistake: unknown;
  const texts: string[] = [];
  const say = (text: string): void => void texts.push(text);
  const code = await runWords(words, {
    out: say,
    err: say,
    progress: () => undefined,
    width: 80,
    open: (path) =>
      path.endsWith("nothing.csv")
        ? Promise.reject(
            new CallError({
              code: "file-missing",
              where: "reading",
              needs: "a file",
              got: "nothing",
            }),
          )
        : openOnce(path),
    unexpected: (error) => {
      mistake = error;
      return "a mistake";
    },
  });
  const line = words.join(" ").slice(0, 300);
  if (mistake !== undefined) return { ending: "crashed", what: `${line}: ${saysMistake(mistake)}` };
  const own = new Set(words.flatMap((each) => machineWord.exec(each) ?? []));
  const word = words.includes("--json") ? undefined : wordIn(own.size > 0 ? [] : texts);
  if (word !== undefined) return { ending: "machine word", what: `${line}: ${word}` };
  return { ending: code === 0 ? "ended well" : "refused" };
};

/** Every kind of case, with how many a full run takes. */
export const kinds = {
  "damaged files": { full: 10_000, run: fileCase },
  "written protocols": { full: 3_000, run: protocolCase },
  "command lines": { full: 1_000, run: commandCase },
} as const satisfies Readonly<
  Record<string, { full: number; run: (random: RandomStream) => Promise<Ended> }>
>;
export type Kind = keyof typeof kinds;

/** Runs cases of one kind from seed `from` on. */
export const counted = async (
  kind: Kind,
  cases: number,
  from = 0,
  tell: (line: string) => void = () => undefined,
): Promise<Counted> => {
  const counts = Object.fromEntries(endings.map((ending) => [ending, 0])) as Record<Ending, number>;
  const wrong: { seed: number; ending: Ending; what: string }[] = [];
  const times: { seed: number; took: number }[] = [];
  for (let seed = from; seed < from + cases; seed += 1) {
    // Of the processor, since a busy machine makes every clock run late.
    const began = process.cpuUsage();
    const { ending, what = "" } = await kinds[kind].run(randomStream(seed));
    const { user, system } = process.cpuUsage(began);
    const took = (user + system) / 1000;
    times.push({ seed, took });
    counts[ending] += 1;
    if (ending === "ended well" || ending === "refused") continue;
    wrong.push({ seed, ending, what });
    tell(`${kind} ${seed}: ${ending}: ${what}`);
  }
  const median = times.map(({ took }) => took).sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
  for (const { seed, took } of times)
    if (took > mostMilliseconds && took > slowerThanMost * median) {
      counts.slow += 1;
      const what = `${Math.round(took)} ms of the processor`;
      wrong.push({ seed, ending: "slow", what });
      tell(`${kind} ${seed}: slow: ${what}`);
    }
  return { kind, counts, wrong };
};
