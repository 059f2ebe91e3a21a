/** The difference that counts in a verdict, as it is asked for and as effects take it. */
import * as z from "zod";
import { statedAmount } from "../dose/verdict.js";
import type { EffectSet } from "../effects/effect.js";
import { logRatioFromPercent } from "../effects/percent-from-log-ratio.js";
import { familyNotCoded, outcomeFamilyNames } from "../records/outcome-families.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { aNumber, namedOne, option } from "./option.js";

const families = [...outcomeFamilyNames, familyNotCoded];
const anAmount = aNumber({ above: 0, needs: "an amount above 0" });

/** One amount for all families, or `strength=5, size=2`. */
const amounts = z.preprocess(
  (value) =>
    typeof value === "string" && value.includes("=")
      ? Object.fromEntries(
          value.split(",").map((part) => {
            const [name = "", amount = ""] = part.split("=");
            return [namedOne(name, families), amount];
          }),
        )
      : value,
  z.union([anAmount, z.record(z.string(), anAmount)]),
);

export const amountOption = option(amounts.optional(), {
  help: "difference that counts in a verdict: percent, or the scale's unit; one for all outcome families or several, e.g. strength=5,size=2 (each has its own unless told)",
  value: "<amount>",
});

/** The amount that counts on the effects' scale; undefined where nothing says it. */
export const amountFor = (
  { scale }: EffectSet,
  family: string,
  amount: z.output<typeof amounts> | undefined,
): number | undefined => {
  const given = typeof amount === "object" ? amount[family] : amount;
  if (given === undefined) return statedAmount(family, scale);
  return scaleDisplay(scale).shownAsPercent ? logRatioFromPercent(given) : given;
};
