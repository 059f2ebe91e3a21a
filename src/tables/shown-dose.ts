import { withUnit } from "../protocol/with-unit.js";
import type { DoseAxis } from "../dose/dose-axes.js";
import { formatNumber } from "./number-format.js";

/** A dose as it stands in a sentence: a count carries its name, `8 sets`. */
export const namedDose = (dose: number, axis: DoseWriting & Pick<DoseAxis, "label">): string =>
  axis.kind === "number" && axis.unit === ""
    ? `${shownDose(dose, axis)} ${axis.label}`
    : shownDose(dose, axis);

/** The part of an axis that says how its doses are written. */
export type DoseWriting = Pick<DoseAxis, "kind" | "unit" | "levels">;

/** A dose as it is read, to three digits and with its unit: `6.5 s`, `100% of MVC`, `30°`, `long length`. */
export const shownDose = (dose: number, { levels, unit }: DoseWriting): string => {
  const level = levels?.[dose];
  if (level !== undefined) return level;
  const rounded = Number(dose.toPrecision(3));
  const decimals = (String(rounded).split(".")[1] ?? "").length;
  const [whole = "", ...part] = formatNumber(rounded, { digits: Math.min(6, decimals) }).split(".");
  const number = [whole.replace(/\B(?=(\d{3})+$)/g, ","), ...part].join(".");
  return withUnit(number, unit);
};
