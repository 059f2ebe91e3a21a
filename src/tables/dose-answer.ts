/** A dose-response answer in one or two plain sentences. */
import type { DoseResponse } from "../dose/dose-response-result.js";
import type { SlopeAnswer } from "../dose/within-between-slope.js";
import { doseShown, scaledCoefficient } from "./dose-table.js";
import { formatDegreesOfFreedom } from "./number-format.js";
import { namedDose, shownDose } from "./shown-dose.js";

/** Robust degrees of freedom below which an interval is not to be relied on (Tipton 2015). */
const trustedFreedom = 4;

const slopeSentence = (
  slope: SlopeAnswer & Readonly<{ identified: true }>,
  answer: DoseResponse,
  where: string,
): string => {
  const { axis, scale } = answer;
  const { interval } = slope.robust;
  const clear = interval.low > 0 || interval.high < 0;
  const words = `With ${axis.stepWords} the gain differs by`;
  const value = doseShown(scaledCoefficient(slope.robust, axis.step), scale);
  const { degreesOfFreedom } = slope.robust;
  const few =
    degreesOfFreedom < trustedFreedom
      ? ` The interval rests on ${formatDegreesOfFreedom(degreesOfFreedom)} degrees of freedom and is not to be relied on.`
      : "";
  return clear
    ? `${words} ${value}, ${where}.${few}`
    : `${words} ${value}, ${where}: the interval holds no change, so a direction is not shown.${few}`;
};

/** What the file says about a dose: the slope that may be relied on most, the best dose, or what is missing. */
export const doseAnswer = (answer: DoseResponse): string => {
  const { slopes, axis } = answer;
  if (!answer.identified) return `No answer: ${answer.missing}.`;
  const sentences: string[] = [];
  if (slopes.within.identified) {
    sentences.push(slopeSentence(slopes.within, answer, "from arms of the same study"));
  } else {
    sentences.push(
      `There is no slope from arms of the same study: ${slopes.within.missing}.`,
      ...(slopes.between.identified
        ? [
            slopeSentence(
              slopes.between,
              answer,
              "from studies that differ in much else besides, so this is no more than a hint",
            ),
          ]
        : []),
    );
  }
  const { best, notDistinguishable } = answer.readOffs;
  if (axis.kind === "number" && best.identified) {
    const { low, high } = answer.range;
    const [first] = notDistinguishable;
    sentences.push(
      first !== undefined && first.low <= low && first.high >= high
        ? `No dose between ${shownDose(low, { ...axis, unit: "" })} and ${namedDose(high, axis)} can be told from the best one.`
        : `The curve is highest at ${namedDose(best.dose, axis)}${best.atEnd === "neither" ? "" : `, the ${best.atEnd} dose compared`}.`,
    );
  }
  return sentences.join(" ");
};
