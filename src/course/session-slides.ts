/** Slides on sessions: what a hold is, whether one can be held, two compared, and the way up to one. */
import { comparedVariables } from "../answers/compared-variables.js";
import { sessionsFigures, judgedSession, readProtocol } from "../answers/session.js";
import { comparisonWords, differenceWords } from "../answers/trial-comparisons-shown.js";
import type { TrialComparison } from "../answers/trial-comparisons.js";
import { ask } from "../answers/ask.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { typicalOf } from "../protocol/range-ends.js";
import { prescriptionOf } from "../records/prescription-of.js";
import { counted, formatNumber } from "../tables/number-format.js";
import { shownDuration } from "../tables/shown-duration.js";
import { plainAnswer, type Setting, type SlideDraft, type SlideMaker } from "./slide.js";
import type { TrainedSession } from "./trained-sessions.js";

/** What a slide says where no session of the file can be laid out. */
const noSession = ({ evidence }: Setting, of: string): SlideDraft => {
  const { rows } = evidence.records;
  const lacks = [
    ["intensity", rows.filter((row) => row.intensityPercent === undefined).length],
    ["hold length", rows.filter((row) => row.holdSeconds === undefined).length],
    ["number of holds", rows.filter((row) => row.repetitions === undefined).length],
    [
      "rest between holds",
      rows.filter((row) => row.restBetweenRepetitionsSeconds === undefined).length,
    ],
  ] as const;
  const said = `No session of ${evidence.source.name} says all that a drawing to scale needs.`;
  const worst = [...lacks].sort((a, b) => b[1] - a[1])[0]!;
  return {
    message: `${of}: no session of ${evidence.source.name} is told in full`,
    lines: lacks.flatMap(([name, count]) =>
      count === 0 ? [] : [{ name, text: `Missing on ${count} of ${counted(rows.length, "row")}.` }],
    ),
    notes: {
      say: said,
      number:
        lacks.map(([name, count]) => `${name} missing on ${count}`).join(", ") +
        ` of ${rows.length} rows.`,
      asked: "What must a paper say so that its session can be repeated?",
      reply: `Here most often missing: ${worst[0]}, on ${worst[1]} of ${rows.length} rows.`,
      trap: `To repeat "${rows[0]?.study ?? ""}" from its abstract: ${worst[0]} is a guess then.`,
    },
    told: false,
  };
};

/** The session asked about: the teacher's, or one that was trained and is not maximal where there is one. */
const sessionOf = ({ wishes, sessions }: Setting): TrainedSession | undefined =>
  wishes.protocol === undefined
    ? (sessions.find(({ maximal }) => !maximal) ?? sessions[0])
    : {
        study: "Your outline",
        arm: "protocol",
        line: 0,
        written: wishes.protocol,
        maximal: false,
        people: 0,
      };

/** Two sessions of the file that differ most in what a strip shows: those of a trial that compared them, where there is one. */
const pairOf = async (setting: Setting): Promise<readonly TrainedSession[]> => {
  const { sessions } = setting;
  const trials = await setting.ask("single-trials", { on: comparedVariables });
  const all = trials.data.groups
    .filter(({ id }) => id === setting.lead.id)
    .flatMap(({ comparisons }) => comparisons as unknown as readonly TrialComparison[]);
  const ofStudy = (study: string) => sessions.filter((one) => one.study === study);
  const compared = all.map(({ study }) => ofStudy(study)).find(({ length }) => length > 1);
  if (compared !== undefined) return compared.slice(0, 2);
  const [first] = sessions;
  const other = sessions.find(({ study }) => study !== first?.study) ?? sessions[1];
  return first === undefined || other === undefined ? [] : [first, other];
};

/** What a hold is: sessions of the file to scale. */
export const holdSlide: SlideMaker = async (setting) => {
  const pair = await pairOf(setting);
  const shown = pair.length > 0 ? pair : setting.sessions.slice(0, 1);
  if (shown.length === 0) return noSession(setting, "What a hold is");
  const judged = shown.map((one) => {
    const prescription = readProtocol(one.written, undefined);
    return {
      one,
      prescription,
      session: judgedSession(prescription),
      name: `${one.study}: ${one.arm}`,
    };
  });
  const [figure] = sessionsFigures("Sessions that were trained, to scale", judged, "course-hold");
  if (figure === undefined || figure.name !== "sessions")
    return noSession(setting, "What a hold is");
  const tension = figure.data.sessions.map(({ summary }) => summary);
  return {
    message: `What a hold is: ${shown
      .map(({ study }) => study)
      .filter((s, i, a) => a.indexOf(s) === i)
      .join(" and ")}, drawn to scale`,
    figure,
    notes: {
      say: shown.map(({ study, arm, written }) => `${study}, ${arm}: ${written}.`).join(" "),
      number: `${tension.join("; ")}.`,
      asked: `How much of the session of ${shown[0]!.study} is rest?`,
      reply: restOf(figure.data.sessions[0]!.timeline),
      trap: `To count holds: ${shown.map(({ written }) => written.split(",")[0]!).join(" against ")} is ${tension.join(" against ")}.`,
    },
  };
};

const restOf = (
  timeline: readonly Readonly<{ startSeconds: number; endSeconds: number; kind: string }>[],
): string => {
  const all = timeline.at(-1)?.endSeconds ?? 0;
  const held = timeline
    .filter(({ kind }) => kind === "hold")
    .reduce((sum, { startSeconds, endSeconds }) => sum + endSeconds - startSeconds, 0);
  return `${shownDuration(all - held)} of ${shownDuration(all)}, ${formatNumber((100 * (all - held)) / all, { digits: 0 })}%.`;
};

export const heldSlide: SlideMaker = async (setting) => {
  const session = sessionOf(setting);
  if (session === undefined) return noSession(setting, "Can it be held?");
  const answer = await ask("hold", { protocol: session.written });
  const { assessment, grade } = answer.data;
  const of = `${session.study}, ${session.written}`;
  return {
    figure: answer.figures.find(({ name }) => name === "remaining-capacity") ?? answer.figures[0],
    message: `${session.study}, can it be held: ${answer.data.answer === null ? "cannot be said" : short(answer.data.answer)}`,
    lines: [{ name: session.study, text: answer.headline }],
    answer: plainAnswer(answer),
    notes: {
      say: `${of}: ${answer.data.answer ?? answer.headline}`,
      number:
        assessment?.smallestReservePercent === undefined
          ? answer.headline
          : `At the weakest moment ${formatNumber(assessment.smallestReservePercent.central, { digits: 0 })} points of MVC to spare (${formatNumber(assessment.smallestReservePercent.low, { digits: 0 })} to ${formatNumber(assessment.smallestReservePercent.high, { digits: 0 })}).`,
      asked: `How long could one single hold of ${session.study} last${assessment?.demandPercent === undefined ? "" : `, at ${formatNumber(assessment.demandPercent, { digits: 0 })}% of MVC`}?`,
      reply:
        assessment?.oneHold === undefined
          ? answer.headline
          : `About ${formatNumber(assessment.oneHold.centralSeconds, { digits: 0 })} s (${formatNumber(assessment.oneHold.lowSeconds, { digits: 0 })} to ${formatNumber(assessment.oneHold.highSeconds, { digits: 0 })} s).`,
      trap: `To read "${grade ?? "no grade"}" as a promise: between the ends of the range lies half the room. ${answer.sentences[0] ?? ""}`.trim(),
    },
    told: answer.data.refusal === null,
  };
};

/** The first part of an answer's words, as they fit a heading. */
const short = (words: string): string =>
  words
    .split(/[:;.(]/)[0]!
    .trim()
    .toLowerCase();

/** Pairs of sessions to compare, as coaches write them: the teacher's, those that a trial compared, and two that were trained. */
const pairsToCompare = async (
  setting: Setting,
  comparisons: readonly TrialComparison[],
): Promise<readonly (readonly string[])[]> => {
  if (setting.wishes.compare !== undefined) return [setting.wishes.compare];
  const lines = new Map(setting.evidence.records.rows.map((row) => [row.line, row]));
  const written = (line: number): readonly string[] => {
    const row = lines.get(line);
    const given = row === undefined ? undefined : prescriptionOf(row);
    return given?.holdSeconds === undefined || given.intensityPercent === undefined
      ? []
      : [writePrescription(typicalOf(given))];
  };
  const ofTrials = comparisons.map(({ lower, higher }) => [
    ...new Set([...written(lower.line), ...written(higher.line)]),
  ]);
  const trained = (await pairOf(setting)).map((one) => one.written);
  const [first] = setting.sessions;
  const far = setting.sessions.filter(({ study }) => study !== first?.study).slice(0, 2);
  return [
    ...ofTrials.slice(0, 1),
    trained,
    ...far.map((one) => [first!.written, one.written]),
  ].filter(({ length }) => length > 1);
};

/** Two sessions side by side: the first pair that the model can tell of, otherwise what is known of the first. */
export const compareSlide: SlideMaker = async (setting) => {
  const { lead } = setting;
  const trials = await setting.ask("single-trials", { outcome: lead.id });
  const comparisons = (trials.data.groups[0]?.comparisons ??
    []) as unknown as readonly TrialComparison[];
  const pairs = await pairsToCompare(setting, comparisons);
  if (pairs.length === 0) return noSession(setting, "Compare two");
  const asked = async (protocol: readonly string[]) => {
    const answer = await setting.ask("compare", { protocol: [...protocol], ...goalOf(lead.id) });
    const figure = answer.figures.find(({ name }) => name === "comparison");
    return { protocol, answer, figure };
  };
  let best = await asked(pairs[0]!);
  for (const pair of pairs.slice(1))
    if (best.figure === undefined) {
      const next = await asked(pair);
      if (next.figure !== undefined) best = next;
    }
  const { protocol, answer, figure } = best;
  const [comparison] = comparisons;
  const exact = /^(.*?) compared A and B/.exec(answer.headline)?.[1];
  const said = protocol.map((written, at) => `${"ABCDEF"[at]}: ${written}`);
  return {
    figure,
    ...(figure === undefined
      ? {
          message:
            exact === undefined
              ? `Compare two: which gives more ${lead.label} cannot be told`
              : `Compare two: ${exact} set them against each other`,
        }
      : {}),
    lines: [
      ...protocol.map((written, at) => ({ name: "ABCDEF"[at]!, text: `${written}.` })),
      { name: "Answer", text: answer.headline },
      ...(comparison === undefined
        ? []
        : [
            {
              name: comparison.study,
              text: `${comparisonWords(comparison)
                .slice(comparison.study.length)
                .replace(/^[,\s]+/, "")}.`,
            },
          ]),
    ],
    answer: plainAnswer(answer),
    notes: {
      say: `${said.join("; ")}. ${answer.headline}`,
      number: answer.headline,
      asked: `Did a trial of ${lead.label} set ${protocol.join(" against ")}?`,
      reply:
        comparison === undefined
          ? trials.headline
          : `${comparison.study}: difference ${differenceWords(comparison)}.`,
      trap: `The middle of a range is no answer: ${answer.sentences.find((one) => one.startsWith("A against B")) ?? answer.headline}`,
    },
    told: figure !== undefined || exact !== undefined,
  };
};

/** A kind of outcome as the goal of a projection, where its name is one. */
const goalOf = (id: string): Readonly<{ goal?: never }> =>
  (["strength", "size", "tendon"].includes(id) ? { goal: id } : {}) as Readonly<{ goal?: never }>;

export const rampSlide: SlideMaker = async (setting) => {
  const { from, weeks } = setting.wishes;
  const session = sessionOf(setting);
  if (session === undefined) return noSession(setting, "Work up to it");
  const answer = await ask("ramp", { protocol: session.written, from, weeks });
  const plan = answer.data.weeks ?? [];
  const [first, last] = [plan[0], plan.at(-1)];
  return {
    figure: answer.figures.find(({ name }) => name === "ramp"),
    message:
      answer.data.refusal === null
        ? `Work up to ${session.study} in ${weeks} weeks, one change at a time`
        : `Work up to ${session.study}: no plan in ${weeks} weeks`,
    lines: [
      { name: "Asked", text: `${session.written}, from ${from}, in ${weeks} weeks.` },
      { name: "Answer", text: answer.headline },
    ],
    answer: plainAnswer(answer),
    notes: {
      say: `${session.study}, ${session.written}, from ${from}: ${answer.headline}`,
      number:
        first === undefined || last === undefined
          ? answer.headline
          : `Week ${first.week}: ${first.written}; week ${last.week}: ${last.written}.`,
      asked: `What changes from week 1 to week 2 on the way to ${session.study}?`,
      reply: plan.length < 2 ? answer.headline : `From ${first!.written} to ${plan[1]!.written}.`,
      trap: answer.sentences[0] ?? answer.headline,
    },
    told: answer.data.refusal === null,
  };
};
