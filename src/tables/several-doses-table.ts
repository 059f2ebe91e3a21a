import type { CollinearPair } from "../dose/collinearity.js";
import type { DoseTerm, SeveralDoses } from "../dose/several-doses.js";
import type { EffectScale } from "../effects/effect.js";
import { doseShown, scaledCoefficient } from "./dose-table.js";
import {
  capital,
  confidenceWords,
  formatDegreesOfFreedom,
  formatNumber,
  pValueCell,
} from "./number-format.js";
import { shownDose } from "./shown-dose.js";
import type { Table } from "./table.js";

const stepOf = ({ axes }: DoseTerm): number => axes.reduce((total, { step }) => total * step, 1);

const stepWords = ({ axes }: DoseTerm): string =>
  axes.length === 1
    ? axes[0]!.stepWords
    : `${axes[0]!.stepWords}, for each step of ${axes[1]!.label} (${axes[1]!.stepWords})`;

/** What a step of each dose adds, one after the other, as in `10 more seconds of hold adds 1.2% (…)`. */
export const severalDosesAdd = (answer: SeveralDoses, scale: EffectScale): readonly string[] =>
  answer.terms.flatMap((term) =>
    term.within.kind === "told"
      ? [
          `${stepWords(term)} adds ${doseShown(scaledCoefficient(term.within.robust, stepOf(term)), scale, `${confidenceWords(answer.confidence)} interval `)}`,
        ]
      : [],
  );

/** Slopes of several doses at once, inside studies, each with the others held still; refusals as sentences. */
export const severalDosesTable = (answer: SeveralDoses, scale: EffectScale): Table => ({
  id: "several-doses",
  title: "What each dose adds with the others held still, inside studies",
  columns: [
    { key: "term", label: "Step", align: "left" },
    { key: "adds", label: "Adds (interval)", align: "left" },
    { key: "freedom", label: "Degrees of freedom", align: "right" },
    { key: "p", label: "p", align: "right" },
    { key: "together", label: "Moves with the others, r", align: "right" },
  ],
  rows: answer.terms.map((term) => ({
    term: capital(stepWords(term)),
    adds:
      term.within.kind === "told"
        ? doseShown(scaledCoefficient(term.within.robust, stepOf(term)), scale)
        : `not told: ${term.within.reason}`,
    freedom:
      term.within.kind === "told"
        ? formatDegreesOfFreedom(term.within.robust.degreesOfFreedom)
        : "",
    p: term.within.kind === "told" ? pValueCell(term.within.robust.p) : "",
    together:
      term.correlationWithOthers === undefined
        ? ""
        : formatNumber(term.correlationWithOthers, { digits: 2 }),
  })),
  notes: [
    `${answer.effects} effects of ${answer.studies} studies with all of these doses known; r is the multiple correlation inside studies, from 0.8 on parts cannot be told apart`,
    ...(answer.terms.some(({ axes }) => axes.length > 1)
      ? [
          `a product is counted about ${answer.axes.map((axis, k) => `${shownDose(answer.centres[k]!, axis)}${axis.unit === "" ? ` ${axis.label}` : ""}`).join(" and ")}, where each dose's own line holds`,
        ]
      : []),
    ...answer.notes.map(({ message }) => message),
  ],
});

/** How every two doses move together, in plain words. */
export const collinearityTable = (pairs: readonly CollinearPair[]): Table => ({
  id: "doses-together",
  title: "Which doses move together",
  columns: [
    { key: "pair", label: "Doses", align: "left" },
    { key: "within", label: "r inside studies (studies)", align: "right" },
    { key: "between", label: "r between studies (studies)", align: "right" },
    { key: "words", label: "In words", align: "left" },
  ],
  rows: pairs.map(({ first, second, within, between, words }) => {
    const cell = (one: CollinearPair["within"]): string =>
      one === undefined ? "–" : `${formatNumber(one.r, { digits: 2 })} (${one.studies})`;
    return {
      pair: `${first.label}, ${second.label}`,
      within: cell(within),
      between: cell(between),
      words: capital(words),
    };
  }),
  notes: [],
});
