/** The places of the page, by which commands are grouped. */
export type Place = "Evidence" | "Protocols" | "Data" | "Teach" | "Report";

/**
 * Every question, in the order in which doors list them, with an example on the files that ship. A new question is one file
 * and one line here.
 */
export const questionList = {
  check: {
    asks: "say whether a file can be used: problems with their mends, what became of every row",
    needs: "file",
    place: "Data",
    example: "data/published-outcomes.csv",
    load: () => import("./check.js").then(({ check }) => check),
  },
  brief: {
    asks: "the file on one page: what to prescribe for each goal, how sure, what nobody tested",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv",
    load: () => import("./brief.js").then(({ brief }) => brief),
  },
  studies: {
    asks: "the studies of a file: arms, people, outcomes, references",
    needs: "file",
    place: "Data",
    example: "data/published-outcomes.csv",
    load: () => import("./studies.js").then(({ studies }) => studies),
  },
  effects: {
    asks: "put every outcome on one scale, with its variance and how it was reached",
    needs: "file",
    place: "Data",
    example: "data/published-outcomes.csv",
    load: () => import("./effects.js").then(({ effects }) => effects),
  },
  pool: {
    asks: "average the effects and say how far studies differ",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --outcome size --card size.svg",
    load: () => import("./pool.js").then(({ pool }) => pool),
  },
  dose: {
    asks: "how the gain follows a dose: within studies, between them, and its shape",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --on hold-seconds --outcome strength",
    load: () => import("./dose.js").then(({ dose }) => dose),
  },
  variables: {
    asks: "which protocol variables matter, with a verdict for each",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --outcome strength",
    load: () => import("./variables.js").then(({ variables }) => variables),
  },
  "single-trials": {
    asks: "what single trials compared, weighted or not: doses, gains as printed, what else differed",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --outcome tendon",
    load: () => import("./single-trials.js").then(({ singleTrials }) => singleTrials),
  },
  "isometric-or-dynamic": {
    asks: "whether groups that held gained more than groups that moved, by the way of testing",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv",
    load: () =>
      import("./isometric-or-dynamic.js").then(({ isometricOrDynamic }) => isometricOrDynamic),
  },
  "equal-tension": {
    asks: "whether the same tension does the same in longer holds, or at higher intensity",
    needs: "file",
    place: "Evidence",
    example: "data/demo-register.csv --equal torque-time",
    load: () =>
      import("./equal-tension.js").then(({ equalTensionQuestion }) => equalTensionQuestion),
  },
  "joint-angle": {
    asks: "how far a gain carries over to joint angles that were not trained",
    needs: "file",
    place: "Evidence",
    example: "data/demo-register.csv --degrees 10,20,30",
    load: () => import("./joint-angle.js").then(({ jointAngleQuestion }) => jointAngleQuestion),
  },
  time: {
    asks: "how the gain grows over the weeks",
    needs: "file",
    place: "Evidence",
    example: "data/demo-register.csv --weeks 4,8,12",
    load: () => import("./time.js").then(({ time }) => time),
  },
  project: {
    asks: "what to expect from a protocol: three ranges, their course, the evidence near it",
    needs: "file",
    place: "Protocols",
    example:
      'data/published-outcomes.csv "4 x 10 s at 70%, rest 60 s, 3/week, 8 weeks" --goal strength',
    load: () => import("./project.js").then(({ project }) => project),
  },
  compare: {
    asks: "two to six protocols side by side: differences, chances, what each takes",
    needs: "file",
    place: "Protocols",
    example:
      'data/published-outcomes.csv "4 x 10 s at 70%, 3/week" "10 x 3 s at 90%, 3/week" --goal strength',
    load: () => import("./compare.js").then(({ compare }) => compare),
  },
  explore: {
    asks: "within limits of time and intensity, the protocols that give the most for the time",
    needs: "file",
    place: "Protocols",
    example: "data/demo-register.csv --goal size --minutes 10 --sessions 3 --intensity-up-to 90",
    load: () => import("./explore.js").then(({ explore }) => explore),
  },
  influence: {
    asks: "leave each study out in turn: which averages rest on one study",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --outcome size",
    load: () => import("./influence.js").then(({ influence }) => influence),
  },
  "small-studies": {
    asks: "whether small studies show larger effects than large ones",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv",
    load: () => import("./small-studies.js").then(({ smallStudies }) => smallStudies),
  },
  statements: {
    asks: "statements as people teach them, put to the test: supported, against, mixed, undecided",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --statements data/example-statements.csv",
    load: () => import("./statements.js").then(({ statements }) => statements),
  },
  certainty: {
    asks: "how sure every finding is, with the reasons; the findings in one table",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --contrast against-control",
    load: () => import("./certainty.js").then(({ certainty }) => certainty),
  },
  "risk-of-bias": {
    asks: "risk of bias by study and domain, and every average without the doubtful",
    needs: "file",
    place: "Evidence",
    example: "data/demo-register.csv --outcome tendon",
    load: () => import("./risk-of-bias.js").then(({ riskOfBias }) => riskOfBias),
  },
  sweep: {
    asks: "ask again in every way that choices and assumptions allow: how far the answer moves",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --outcome blood-pressure",
    load: () => import("./sweep.js").then(({ sweep }) => sweep),
  },
  made: {
    asks: "how an average and one of its effects were made, with the numbers put in",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --outcome size",
    load: () => import("./made.js").then(({ made }) => made),
  },
  settle: {
    asks: "what trial would settle it: the chance that further trials decide, and what nobody knows yet",
    needs: "file",
    place: "Evidence",
    example: "data/published-outcomes.csv --outcome strength --on hold-seconds --simulations 40",
    load: () => import("./settle.js").then(({ settle }) => settle),
  },
  changes: {
    asks: "what is new since an older file: rows, averages, verdicts, and which study did it",
    needs: "file",
    place: "Data",
    example:
      "data/published-outcomes.csv data/published-outcomes.csv --with data/published-outcomes-read-once.csv",
    load: () => import("./changes.js").then(({ changes }) => changes),
  },
  hold: {
    asks: "what a session amounts to, and whether it can be held",
    needs: "nothing",
    place: "Protocols",
    example: '"4 x 20 s at 70%, rest 60 s" --joint knee',
    load: () => import("./hold.js").then(({ hold }) => hold),
  },
  ramp: {
    asks: "work up to a session: one change a week, each week checked against endurance",
    needs: "nothing",
    place: "Protocols",
    example: '"4 x 30 s at 60%, rest 90 s, 3/week" --from deconditioned --weeks 8 --joint knee',
    load: () => import("./ramp.js").then(({ ramp }) => ramp),
  },
  follow: {
    asks: "whether one client's change is real, and what it and the file expect by the end",
    needs: "file",
    place: "Protocols",
    example:
      'data/published-outcomes.csv data/example-client-log.csv "4 x 10 s at 70%, rest 60 s, 3/week, 8 weeks, knee, 90°"',
    load: () => import("./follow.js").then(({ follow }) => follow),
  },
} as const satisfies Record<
  string,
  Readonly<{
    asks: string;
    needs: "file" | "nothing";
    place: Place;
    example: string;
    load: unknown;
  }>
>;

/** The first word of `ask`: a question's name. */
export type QuestionId = keyof typeof questionList;

/** Every question there is, in the order in which doors list them. */
export const questionIds = Object.keys(questionList) as readonly QuestionId[];

/** The question of an id. */
export type QuestionOf<Id extends QuestionId> = Awaited<
  ReturnType<(typeof questionList)[Id]["load"]>
>;

/** Words of a command line as they are typed today: `variables FILE --question time` is `time FILE`. */
export const wordsOfToday = (words: readonly string[]): readonly string[] => {
  const place = words.findIndex((word) => /^--question(=|$)/.test(word));
  if (words[0] !== "variables" || place < 0) return words;
  const [, after] = words[place]!.split("=");
  const asked = after ?? words[place + 1] ?? "";
  const rest = words.filter((_, i) => i !== place && (after !== undefined || i !== place + 1));
  return [asked === "all-variables" ? "variables" : asked, ...rest.slice(1)];
};
