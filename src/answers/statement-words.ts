/**
 * What the words of a statement propose for its form. Nothing is guessed: a word that no rule reads is asked about, and
 * so is a field that two rules read differently.
 */
import type { AskedField, StatementCells, StatementField } from "./statement-form.js";

type Rule = readonly [RegExp, StatementCells | ((match: readonly string[]) => StatementCells)];

const numerals = "one two three four five six seven eight nine ten eleven twelve".split(" ");
const spelt = new RegExp(`\\b(?:${numerals.join("|")})\\b`, "g");

const number = String.raw`(\d+(?:\.\d+)?)`;
const percent = String.raw`${number}\s*%(?: of mvc)?`;
const to = String.raw`\s*(?:to|and|–|-)\s*`;
const rule = (pattern: string, cells: Rule[1]): Rule => [new RegExp(pattern, "g"), cells];

const seconds = (value: string, unit: string | undefined): string =>
  String(Number(value) * (unit?.startsWith("m") === true ? 60 : 1));
const second = String.raw`(s|sec|seconds?|min|minutes?)\b`;

/**
 * Rules in the order in which they take their words out of the sentence. Within a group, what is read twice alike is read
 * once; what is read in two ways is asked about.
 */
const groups: readonly (readonly Rule[])[] = [
  // Conditions, and doses that say which variable they are of.
  [
    rule(String.raw`\bat equal tension(?: time)?\b`, { equal: "tension time" }),
    rule(String.raw`\bat equal (?:torque.time|work)\b`, { equal: "torque–time" }),
    rule(
      String.raw`\bhalf of the ${number}-week gain in (\w+) is there after ${number} weeks\b`,
      ([, all, outcome, early]) => ({
        compared: "weeks",
        claim: "time course",
        outcome: outcome!,
        from: early!,
        to: all!,
        least: "50",
      }),
    ),
    rule(
      String.raw`\b(?:over|after|in|within) ${number}${to}${number} weeks\b`,
      ([, low, high]) => ({
        where: `weeks between ${low} and ${high}`,
      }),
    ),
    rule(String.raw`\b(?:after|in) ${number} weeks\b`, ([, weeks]) => ({
      where: `weeks=${weeks}`,
    })),
    rule(
      String.raw`\b${number}${to}${number} (?:s|seconds?) near.maximal(?: a session)?\b`,
      ([, low, high]) => ({
        compared: "tension time in a session",
        where: "near_maximal_share=100",
        from: low!,
        to: high!,
      }),
    ),
    rule(String.raw`\bmen and women\b|\bwomen and men\b|\bolder adults .*young(?:er)? adults\b`, {
      compared: "people",
    }),
    rule(
      String.raw`\bcan be (?:kept|held|sustained) for (about )?${number} ${second}`,
      ([, , value, unit]) => ({
        claim: "endurance",
        outcome: "endurance",
        least: seconds(value!, unit),
        most: seconds(value!, unit),
      }),
    ),
    rule(
      String.raw`\bpushing can be held\b(?=.*\bholding\b)|\bholding can be held\b(?=.*\bpushing\b)`,
      {
        claim: "endurance",
        compared: "pushing or holding",
        outcome: "endurance",
      },
    ),
    rule(String.raw`\btwice as long as (?:holding|pushing)\b`, { least: "2", most: "2" }),
  ],
  // What is compared.
  [
    rule(
      String.raw`\bisometrics?(?: training)?\b(?=.*\b(?:dynamic(?: training)?|lifting(?: weights)?|weight training)\b)`,
      { compared: "isometric or dynamic" },
    ),
    rule(String.raw`\b(?:dynamic(?: training)?|lifting weights|weight training)\b`, {
      compared: "isometric or dynamic",
    }),
    rule(String.raw`\btraining at long(?:er)? muscle lengths?\b|\blong(?:er)? muscle lengths?\b`, {
      compared: "muscle length",
      from: "short",
      to: "long",
    }),
    rule(String.raw`\bthan (?:training )?at short(?:er)? (?:muscle )?lengths?\b`, {
      compared: "muscle length",
    }),
    rule(String.raw`\bcarr(?:y|ies) over to other angles (?:better|more)\b`, {
      claim: "joint angle",
      outcome: "strength",
    }),
    rule(String.raw`\blonger holds\b|\bthe longer the hold\b|\blong holds\b`, {
      compared: "hold length",
    }),
    rule(String.raw`\bthan (?:short|shorter)(?: ones| holds)?\b`, { compared: "hold length" }),
    rule(String.raw`\b(?:best|ideal|optimal|optimum) hold(?: length)?\b`, {
      compared: "hold length",
      claim: "optimum",
    }),
    rule(String.raw`\b(?:best|ideal|optimal|optimum) intensity\b`, {
      compared: "intensity",
      claim: "optimum",
    }),
    rule(String.raw`\bhigh(?:er)? intensity\b|\bmore intensity\b`, { compared: "intensity" }),
    rule(String.raw`\bthan low(?:er)? intensity\b`, { compared: "intensity" }),
    rule(String.raw`\bintensity\b`, { compared: "intensity" }),
    rule(String.raw`\ba hold at ${percent}`, ([, value]) => ({
      compared: "intensity",
      from: value!,
    })),
    rule(String.raw`\b(?:more|higher) (?:total )?tension (?:time )?(?:per|in a|a) session\b`, {
      compared: "tension time in a session",
    }),
    rule(
      String.raw`\b${number} sessions (?:a|per) week (?:is|are) better than ${number}\b`,
      ([, high, low]) => ({ compared: "sessions a week", from: low!, to: high!, claim: "more" }),
    ),
    rule(String.raw`\bmore sessions (?:a|per) week\b`, { compared: "sessions a week" }),
    rule(String.raw`\brests? between holds\b`, { compared: "rest between holds" }),
    rule(String.raw`\brests? between sets\b`, { compared: "rest between sets" }),
    rule(String.raw`\bmore sets\b`, { compared: "sets" }),
    rule(
      String.raw`\bexplosive (?:contractions|holds)\b|\b(?:contractions|holds) (?:made )?as fast as possible\b`,
      { compared: "intent of the hold" },
    ),
    rule(
      String.raw`\bthan (?:slow )?(?:ramped|sustained|slow)(?: and sustained)? (?:ones|holds)\b`,
      {
        compared: "intent of the hold",
      },
    ),
    rule(
      String.raw`\b(?:mostly |mainly )?at the angle that was trained\b|\bat the trained angle\b`,
      {
        compared: "joint angle",
        claim: "joint angle",
        from: "",
      },
    ),
    rule(String.raw`\b${number} weeks are enough\b`, ([, weeks]) => ({
      compared: "weeks",
      claim: "enough",
      from: weeks!,
    })),
    rule(
      String.raw`\bmost of the (\w+) gain comes in the first ${number} weeks\b`,
      ([, outcome, early]) => ({
        compared: "weeks",
        claim: "time course",
        outcome: outcome!,
        from: early!,
        least: "50",
      }),
    ),
    rule(String.raw`\b(?:regular )?isometric training\b`, { compared: "training" }),
    rule(String.raw`\bgains in (?=strength|size|tendon)|\bstrength rises\b`, ([whole]) => ({
      compared: "training",
      ...(whole!.startsWith("strength") ? { outcome: "strength" } : {}),
    })),
  ],
  // What is claimed, with its numbers.
  [
    rule(String.raw`\b(?:needs?|requires?) (?:at least )?${percent}(?: or more)?`, ([, dose]) => ({
      claim: "threshold",
      compared: "intensity",
      from: dose!,
    })),
    rule(String.raw`\byou need at least ${percent}`, ([, dose]) => ({
      claim: "threshold",
      compared: "intensity",
      from: dose!,
    })),
    rule(String.raw`\babove ${percent}`, ([, dose]) => ({ compared: "intensity", from: dose! })),
    rule(String.raw`\b(?:there is )?no (?:further|additional) benefit\b`, {
      claim: "no difference",
    }),
    rule(
      String.raw`\bhardly matters\b|\bmakes no difference\b|\bdo(?:es)? not (?:change|matter|affect|add(?: to)?)\b|\b(?:gain|builds?) the same\b`,
      { claim: "no difference" },
    ),
    rule(String.raw`\b(?:gains?|builds?) as much (strength|muscle) as\b`, ([, what]) => ({
      claim: "no difference",
      outcome: what === "muscle" ? "size" : "strength",
    })),
    rule(String.raw`\b(?:is|are) enough\b`, { claim: "enough" }),
    rule(String.raw`\blies? between ${number}${to}${percent}`, ([, low, high]) => ({
      least: low!,
      most: high!,
    })),
    rule(String.raw`\bbetween ${number}${to}${percent}`, ([, low, high]) => ({
      from: low!,
      to: high!,
    })),
    rule(String.raw`\bby ${number}${to}${number} mmhg\b`, ([, low, high]) => ({
      least: low!,
      most: high!,
      unit: "mmHg",
    })),
    rule(String.raw`\bby at least ${percent}`, ([, least]) => ({ claim: "amount", least: least! })),
    rule(String.raw`\bis ${number} ${second}`, ([, value, unit]) => ({
      from: seconds(value!, unit),
      to: seconds(value!, unit),
    })),
    rule(String.raw`\bstronger\b`, { outcome: "strength", claim: "more" }),
    rule(String.raw`\bmuscles bigger\b`, { outcome: "size", claim: "more" }),
    rule(String.raw`\b(?:grows?|builds?) (more|less) muscle\b`, ([, claim]) => ({
      claim: claim!,
      outcome: "size",
    })),
    rule(
      String.raw`\b(?:gains?|builds?|gives?|means?|adds?) (more|less) (?=strength|hypertrophy)`,
      ([, claim]) => ({ claim: claim! }),
    ),
    rule(String.raw`\bgrows? muscle\b`, { outcome: "size" }),
    rule(String.raw`\bstiffens? tendons? more\b|\bstiffer the tendon\b`, {
      outcome: "tendon",
      claim: "more",
    }),
    rule(String.raw`\bimproves? (?=rate of force)|\bmore (?=than|$)|\b(?:is|are) better\b`, {
      claim: "more",
    }),
    rule(String.raw`\blowers?\b|\breduces?\b`, { claim: "less" }),
  ],
  // The outcome.
  [
    rule(String.raw`\brate of (?:force|torque) development\b|\bexplosive strength\b`, {
      outcome: "rapid force",
    }),
    rule(String.raw`\b(?:resting |arterial )?blood pressure\b`, { outcome: "blood pressure" }),
    rule(String.raw`\bhypertrophy\b|\bmuscle (?:size|growth|mass|volume)\b|\bsize\b`, {
      outcome: "size",
    }),
    rule(String.raw`\btendons?(?: stiffness)?\b`, { outcome: "tendon" }),
    rule(String.raw`\bstrength\b`, { outcome: "strength" }),
    rule(String.raw`\bpain\b|\bsymptoms\b`, { outcome: "symptoms" }),
  ],
];

/** Words that carry nothing once the rules have taken theirs. */
const silent = new Set(
  "a an the of for in at to is are it its and gain gains training makes make people get gives see there from than as by or for lies lie with isometric".split(
    " ",
  ),
);

/** Fields of which a figure printed as "about" or as one number says too little. */
const isOneNumber = ({ claim, least, most }: StatementCells): boolean =>
  least !== undefined && least === most && (claim === "endurance" || claim === "amount");

/**
 * The form as far as a statement's own words give it, and what they leave to be asked.
 *
 * @returns cells that wait to be confirmed; a question for each word that no rule reads and each field read in two ways
 */
export const proposedCells = (
  statement: string,
): Readonly<{ cells: StatementCells; asked: readonly AskedField[] }> => {
  let rest = statement
    .toLowerCase()
    .replaceAll("\u2212", "-")
    .replace(spelt, (word) => String(numerals.indexOf(word) + 1));
  const found = new Map<StatementField, Set<string>>();
  for (const group of groups)
    for (const [pattern, cells] of group)
      rest = rest.replace(pattern, (...match: string[]) => {
        const own = typeof cells === "function" ? cells(match) : cells;
        for (const [field, value] of Object.entries(own) as [StatementField, string][])
          if (value !== "") found.set(field, (found.get(field) ?? new Set()).add(value));
        return " ";
      });
  const asked: AskedField[] = [];
  const cells: Partial<Record<StatementField, string>> = {};
  for (const [field, values] of found) {
    const [only, ...others] = values;
    if (others.length === 0) cells[field] = only!;
    else
      asked.push({
        field,
        question: `Its words can be read in two ways: ${[...values].join(" or ")}?`,
      });
  }
  if (cells.compared === "training" && cells.least !== undefined && cells.most !== undefined) {
    // "Lowers by 5 to 8": a fall is below 0.
    if (cells.claim === "less")
      Object.assign(cells, { least: `-${cells.most}`, most: `-${cells.least}` });
    if (cells.claim === undefined || cells.claim === "less") cells.claim = "range";
  }
  if (cells.claim === "optimum" && cells.least !== undefined && cells.from === undefined) {
    cells.from = cells.least;
    cells.to = cells.most!;
    delete cells.least;
    delete cells.most;
  }
  if (isOneNumber(cells)) {
    delete cells.least;
    delete cells.most;
  }
  const left = rest
    .split(/[^\p{L}\p{N}%.-]+/u)
    .map((word) => word.replace(/^[.-]+|[.-]+$/g, ""))
    .filter((word) => word !== "" && !silent.has(word));
  if (left.length > 0)
    asked.push({
      field: "where",
      question: `In which field do these words belong: ${left.join(" ")}?`,
    });
  return { cells, asked };
};
