/** What can be asked about doses: which, in which shapes, read at which places. */
import * as z from "zod";
import { axisWords, doseAxes, doseAxisNames, type DoseAxisName } from "../dose/dose-axes.js";
import { doseResponseDefaults } from "../dose/dose-response.js";
import { shapeNames } from "../dose/shapes/shape.js";
import { CallError } from "../errors.js";
import { amountOption } from "./counted-amount.js";
import {
  aNumber,
  defaultOf,
  kebab,
  namedOne,
  numbers,
  oneOf,
  option,
  someOf,
  unread,
} from "./option.js";
import { outcomeShape } from "./outcome-groups.js";
import type { Options } from "./question.js";

export const otherNames = Object.fromEntries(
  doseAxisNames.map((name) => [name, axisWords(name)]),
) as unknown as Readonly<Record<DoseAxisName, readonly string[]>>;

/** Doses by name, label or other spelling, each once, in the order they are named. */
export const axesOption = someOf(doseAxisNames, otherNames);

/** `intensity by hold, intensity by weeks` as pairs of doses. */
const products = z.preprocess(
  (value) => {
    const list = typeof value === "string" ? value.split(",") : value;
    if (!Array.isArray(list)) return value;
    return list.map((one: unknown) => {
      const pair: readonly unknown[] =
        typeof one === "string"
          ? one.trim().split(/\s+by\s+|\s*[×*]\s*/)
          : Array.isArray(one)
            ? one
            : [one];
      return pair.length === 2
        ? pair.map((word) => namedOne(String(word), doseAxisNames, otherNames))
        : unread(
            "pairs such as intensity by hold, separated by commas",
            one,
            undefined,
            "bad-interaction",
          );
    });
  },
  z.array(z.tuple([z.enum(doseAxisNames), z.enum(doseAxisNames)]).readonly()).readonly(),
);

export const doseShape = {
  on: option(axesOption.optional(), {
    help: "a dose such as hold-seconds, intensity or weeks; several, with commas, are looked at together; without one, which doses can be told",
    value: "<doses>",
    label: "Doses",
    labels: Object.fromEntries(doseAxisNames.map((name) => [name, doseAxes[name].label])),
  }),
  ...outcomeShape,
  comparisons: option(
    oneOf(
      ["best identified", "within studies", "between studies only", "within and between together"],
      {
        "within studies": ["within"],
        "between studies only": ["between"],
        "within and between together": ["both"],
      },
    ).default(doseResponseDefaults.comparisons),
    { help: "which comparisons the curve is made of", value: "<kind>" },
  ),
  at: option(numbers().optional(), {
    help: "also the gain at these doses, e.g. 5,20",
    value: "<doses>",
  }),
  amount: amountOption,
  step: option(aNumber({ above: 0, needs: "a step above 0" }).optional(), {
    help: "length of the steps read off the curve",
    value: "<dose>",
  }),
  interactions: option(products.optional(), {
    help: "products of doses in --on, e.g. intensity by hold",
    value: "<pairs>",
  }),
  shapes: option(someOf(shapeNames).default(doseResponseDefaults.shapes), {
    help: "shapes compared, e.g. straight-line,peak, or all",
    value: "<shapes>",
    seldom: true,
  }),
  knots: option(numbers().optional(), {
    help: "knots of the spline, e.g. 5,15,40",
    value: "<doses>",
    seldom: true,
  }),
  form: option(oneOf(["one-stage", "two-stage"]).default(doseResponseDefaults.form), {
    help: "one model for all studies, or a curve in each and their average",
    value: "<form>",
    seldom: true,
  }),
  stepsFrom: option(numbers().optional(), {
    help: "doses at which a step is read off",
    value: "<doses>",
    seldom: true,
  }),
  draws: option(
    aNumber({ least: 100, whole: true, needs: "a whole number of 100 or more" }).default(
      doseResponseDefaults.draws,
    ),
    { help: "curves drawn for the band and what is read off", value: "<number>", seldom: true },
  ),
  seed: option(
    aNumber({ whole: true, needs: "a whole number" }).default(doseResponseDefaults.seed),
    { help: "seed of the drawn curves", value: "<number>", seldom: true },
  ),
};

export type DoseOptions = Options<typeof doseShape>;

/** Options that only one of the three ways of asking has a use for. */
const ofOneDose = [
  "amount",
  "at",
  "step",
  "stepsFrom",
  "shapes",
  "knots",
  "form",
  "comparisons",
  "draws",
  "seed",
] as const;

/**
 * Refuses options of one dose where several are asked about, or none, and the other way round.
 *
 * @throws {CallError} "options-apart"
 */
export const checkApart = (options: DoseOptions): void => {
  const { on = [], interactions } = options;
  const given = (name: keyof DoseOptions): boolean =>
    JSON.stringify(options[name]) !== JSON.stringify(defaultOf(doseShape[name]));
  const misplaced =
    on.length === 1
      ? interactions === undefined
        ? undefined
        : "interactions"
      : ofOneDose.find(given);
  const refuse = (name: string, needs: string): never => {
    throw new CallError({
      code: "options-apart",
      where: `--${kebab(name)}`,
      needs,
      got: on.length === 0 ? "none" : on.map(kebab).join(", "),
    });
  };
  if (misplaced === "interactions")
    refuse(misplaced, "both doses of a product in --on, separated by a comma");
  if (misplaced !== undefined) refuse(misplaced, "one dose in --on");
  if (interactions?.flat().some((name) => !on.includes(name)) === true)
    refuse("interactions", "both doses of every product in --on, separated by commas");
};
