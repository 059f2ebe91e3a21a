/** How the questions of a report were answered beside its averages, a sentence each; nothing of what was not asked. */
import { studiesWithPrior } from "../answers/average-with-prior.js";
import type { DoseAnswer } from "../answers/one-dose.js";
import { capital, confidenceWords, counted } from "../tables/number-format.js";
import { answersTo, type Report } from "./report-part.js";

type Curve = Extract<NonNullable<DoseAnswer["answer"]>, { curve: unknown }>;

const listed = (words: readonly string[]): string => words.join(", ");
const distinct = (values: readonly string[]): readonly string[] => [...new Set(values)];

/** Shapes, weights and bands of the curves that came out. */
const curveSentences = (report: Report): readonly string[] => {
  const told = answersTo(report, "dose").flatMap(({ data }) => {
    const answer = data.answer as Curve | object | undefined;
    return answer !== undefined && "curve" in answer ? [{ outcome: data.outcome, answer }] : [];
  });
  const [first] = told;
  if (first === undefined) return [];
  const shapes = distinct(
    told.flatMap(({ answer }) =>
      answer.shapes.flatMap((shape) => (shape.kind === "told" ? shape.label : [])),
    ),
  );
  const by = (evidence: string): string =>
    listed(
      told
        .filter(({ answer }) => answer.evidence === evidence)
        .map(({ outcome, answer }) => `${outcome} against ${answer.axis.label}`),
    );
  const kinds = distinct(told.map(({ answer }) => answer.evidence));
  return [
    `Curves of gain against dose were made in one-stage models with random intercepts for study, arm and effect, ${kinds
      .map((kind) => `from comparisons ${kind} for ${by(kind)}`)
      .join(
        "; ",
      )}: the shapes ${listed(shapes)} were compared by maximum likelihood, and averaged by the weights of a small-sample information criterion.`,
    ...distinct(told.map(({ answer }) => `Their intervals: ${answer.story.intervalMethod}.`)),
  ];
};

/**
 * The sentences, in the order of the report.
 *
 * @source none: what the answers say of themselves
 */
export const methodsOfQuestions = (report: Report): readonly string[] => {
  const sentences: string[] = [];
  const pools = answersTo(report, "pool").map(({ data }) => data);
  if (
    pools.some(({ groups }) =>
      groups.some(
        (group) => "beside" in group && (group.beside?.withPrior ?? undefined) !== undefined,
      ),
    )
  )
    sentences.push(
      `Averages of ${studiesWithPrior.fewest} to ${studiesWithPrior.most} studies have a second line from a stated prior (normal around no change, half-normal for the spread between studies), and the same with it halved and doubled.`,
    );
  const compared = answersTo(report, "variables").flatMap(({ data }) =>
    data.rows.filter(({ within }) => within !== undefined).map(() => data),
  );
  if (compared[0] !== undefined)
    sentences.push(
      `Each protocol variable was judged by a straight line or the difference of two levels between arms of one study, ${counted(compared[0].questions, "question")} at once with p adjusted for their number; studies set against each other are shown and decide nothing.`,
    );
  sentences.push(...curveSentences(report));
  const [moving] = answersTo(report, "isometric-or-dynamic");
  if (moving !== undefined && moving.data.groups.some(({ effects }) => effects > 0))
    sentences.push(
      `Isometric training was set against ${listed(moving.data.against)} arms of the same trials, apart for each way of testing and positive where holding gained more.`,
    );
  const course = (
    what: string,
    asked: readonly Readonly<{ family: string; answer: Readonly<{ model: string }> }>[],
  ): void => {
    if (asked[0] !== undefined)
      sentences.push(
        `${what} (${listed(distinct(asked.map(({ family }) => family)))}): ${asked[0].answer.model}.`,
      );
  };
  course(
    "Carry-over between joint angles",
    answersTo(report, "joint-angle").flatMap(({ data }) => data.answers),
  );
  course(
    "The course over the weeks",
    answersTo(report, "time").flatMap(({ data }) => data.answers),
  );
  const [tension] = answersTo(report, "equal-tension");
  const pairs = (tension?.data.answers ?? []).flatMap((one) => one.pairs).length;
  if (tension !== undefined && pairs > 0)
    sentences.push(
      `Arms of one study with the same ${tension.data.quantity ?? "total"} within ${Math.round(100 * (tension.data.tolerance ?? 0))}% were paired, longer with shorter holds and higher with lower intensity (${counted(pairs, "pair")}): ${tension.data.model ?? ""}.`,
    );
  const held = answersTo(report, "hold").length;
  if (held > 0)
    sentences.push(
      `Whether ${counted(held, "session")} can be held was judged by endurance curves of the joint, with fatigue and recovery hold by hold.`,
    );
  const projected = answersTo(report, "project").filter(({ data }) => data.refusal === null);
  if (projected.length > 0)
    sentences.push(
      `Gains of protocols were projected by Bayesian regression on the doses of the file's arms, ${confidenceWords(projected[0]!.data.confidence ?? 0)} ranges apart for the average, a new group and one person; the priors and the predictors stand with each goal.`,
    );
  const [small] = answersTo(report, "small-studies");
  if (small !== undefined && small.data.refusal === null)
    sentences.push(
      "Whether small studies show larger effects was asked by the slope of the effects on √(1/effective size) in the same model, where there are ten studies or more.",
    );
  if (answersTo(report, "influence").length > 0)
    sentences.push("Each study was left out in turn and the average made anew.");
  if (answersTo(report, "certainty").some(({ data }) => data.refusal === null))
    sentences.push(
      "How sure each finding is was proposed by stated rules in five domains (risk of bias, inconsistency, indirectness, imprecision, small-study effects; Guyatt and others 2008), from high where both arms were allocated at random and from low elsewhere; the judgement is a person's.",
    );
  const swept = answersTo(report, "sweep").flatMap(({ data }) =>
    data.groups.flatMap((group) => ("choices" in group ? group.choices : [])),
  );
  if (swept.length > 0)
    sentences.push(
      `Every average was made again with each choice behind it made otherwise (${[...new Set(swept.map(({ name }) => name))].join(", ")}), every level with every other, at most 500 ways drawn with a seed.`,
    );
  return sentences.map(capital);
};
