/** How decimals are marked in a file: with a point, with a comma, or with both in different cells. */
export type DecimalMarks = Readonly<{ point: boolean; comma: boolean }>;

const surelyDecimalComma =
  /^[+-]?(?:\d*,(?:\d{1,2}|\d{4,})|0,\d+|\d{4,},\d+|\d{1,3}(?:\.\d{3})+,\d+)$/;
const surelyDecimalPoint =
  /^[+-]?(?:\d*\.(?:\d{1,2}|\d{4,})|0\.\d+|\d{4,}\.\d+|\d{1,3}(?:,\d{3})+\.\d+)$/;

/**
 * Which decimal marks the cells of number columns surely use; "1,234" and "1.234" alone prove nothing.
 *
 * @param rows the table's rows
 * @param columns places of the number columns
 */
export const decimalMarksOf = (
  rows: readonly Readonly<{ cells: readonly string[] }>[],
  columns: readonly number[],
): DecimalMarks => {
  let point = false;
  let comma = false;
  for (const { cells } of rows) {
    for (const column of columns) {
      const cell = cells[column] ?? "";
      if (!comma && cell.includes(",")) comma = surelyDecimalComma.test(cell.trim());
      if (!point && cell.includes(".")) point = surelyDecimalPoint.test(cell.trim());
    }
    if (point && comma) break;
  }
  return { point, comma };
};

export type NumberText =
  | Readonly<{
      kind: "number";
      value: number;
      mark: "none" | "decimal comma" | "thousands separators";
    }>
  | Readonly<{ kind: "ambiguous"; asDecimal: string; asThousands: string }>
  | Readonly<{ kind: "no number" }>;

/** What is said of a number that can be read two ways. */
export const readTwoWays = ({
  asDecimal,
  asThousands,
}: Extract<NumberText, { kind: "ambiguous" }>) =>
  ({
    code: "ambiguous-number",
    message: "the number can be read two ways",
    mend: `write ${asThousands} or ${asDecimal}0, whichever is meant`,
    instead: [asThousands, `${asDecimal}0`],
  }) as const;

const noNumber: NumberText = { kind: "no number" };
const plain = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?$/i;
const leadingMinus = /^[\u2212\u2010-\u2015\ufe63\uff0d]\s*/;

const made = (
  digits: string,
  mark: "none" | "decimal comma" | "thousands separators",
): NumberText => {
  const value = Number(digits);
  return Number.isFinite(value) ? { kind: "number", value, mark } : noNumber;
};

/**
 * The number a text stands for, when it stands for one only.
 *
 * Accepts a decimal point or comma, thousands separated by spaces, apostrophes, points or commas where
 * the grouping leaves one reading, any minus sign in use, and an exponent. "1,234" is a thousand in a file
 * that marks decimals with points, 1.234 in one that marks them with commas, and ambiguous in a file that
 * shows neither; the same for "1.234", which without any sign of a decimal comma is 1.234.
 *
 * @param text a clean cell without unit
 * @param marks the decimal marks the file surely uses
 */
export const numberText = (text: string, marks: DecimalMarks): NumberText => {
  const signed = text.replace(leadingMinus, "-").replace(/^([+-])\s+/, "$1");
  // Groups of three separated by spaces or apostrophes have one reading.
  const grouped = /^([+-]?\d{1,3})((?:[ '’]\d{3})+)([.,]\d+)?$/.exec(signed);
  if (grouped !== null) {
    const whole = `${grouped[1] ?? ""}${(grouped[2] ?? "").replace(/[ '’]/g, "")}`;
    return made(whole + (grouped[3] ?? "").replace(",", "."), "thousands separators");
  }
  const points = signed.split(".").length - 1;
  const commas = signed.split(",").length - 1;
  if (commas === 0 && points <= 1) {
    if (!plain.test(signed)) return noNumber;
    const threeAfter = /^[+-]?[1-9]\d{0,2}\.\d{3}$/.test(signed);
    if (!threeAfter || !marks.comma || marks.point) return made(signed, "none");
    return {
      kind: "ambiguous",
      asDecimal: signed.replace(".", ","),
      asThousands: signed.replace(".", ""),
    };
  }
  if (commas === 1 && points === 0) {
    const decimal = signed.replace(",", ".");
    if (!plain.test(decimal)) return noNumber;
    const threeAfter = /^[+-]?[1-9]\d{0,2},\d{3}$/.test(signed);
    if (!threeAfter || (marks.comma && !marks.point)) return made(decimal, "decimal comma");
    if (marks.point && !marks.comma) return made(signed.replace(",", ""), "thousands separators");
    return { kind: "ambiguous", asDecimal: decimal, asThousands: signed.replace(",", "") };
  }
  if (/^[+-]?\d{1,3}(?:,\d{3})+(?:\.\d+)?$/.test(signed)) {
    return made(signed.replaceAll(",", ""), "thousands separators");
  }
  if (/^[+-]?\d{1,3}(?:\.\d{3})+(?:,\d+)?$/.test(signed)) {
    return made(signed.replaceAll(".", "").replace(",", "."), "thousands separators");
  }
  return noNumber;
};
