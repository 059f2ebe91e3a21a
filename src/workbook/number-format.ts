/** What a cell's number means by its format. */
export type NumberMeaning = "number" | "percent" | "date" | "time";

/** Built-in formats by their number in the open standard: percentages, dates, times. */
const builtIn = (id: number): NumberMeaning => {
  if (id === 9 || id === 10) return "percent";
  if ((id >= 18 && id <= 21) || (id >= 32 && id <= 35) || (id >= 45 && id <= 47)) return "time";
  return (id >= 14 && id <= 31) || id === 36 || (id >= 50 && id <= 58) ? "date" : "number";
};

/**
 * What a number format shows: a percentage, a date, a time or a number.
 *
 * @param id of the format
 * @param code its text where the workbook defines it
 * @source ISO/IEC 29500-1:2016, 18.8.30 (number formats)
 */
export const numberMeaning = (id: number, code: string | undefined): NumberMeaning => {
  if (code === undefined) return builtIn(id);
  const [shown = ""] = code
    .replace(/"[^"]*"?|[\\_*]./g, "")
    .replace(/\[(?!h+\]|m+\]|s+\])[^\]]*\]/gi, "")
    .toLowerCase()
    .split(";");
  if (shown.includes("%")) return "percent";
  if (/[dy]/.test(shown)) return "date";
  if (/[hs]/.test(shown)) return "time";
  return shown.includes("m") ? "date" : "number";
};

const two = (number: number): string => String(number).padStart(2, "0");

/** Year, month and day of a day counted from 1 March of the year 0, by whole eras of 400 years. */
const civilDate = (day: number): string => {
  const era = Math.floor(day / 146_097);
  const ofEra = day - era * 146_097;
  const year = Math.floor(
    (ofEra - Math.floor(ofEra / 1460) + Math.floor(ofEra / 36_524) - Math.floor(ofEra / 146_096)) /
      365,
  );
  const ofYear = ofEra - (365 * year + Math.floor(year / 4) - Math.floor(year / 100));
  const fromMarch = Math.floor((5 * ofYear + 2) / 153);
  const month = fromMarch < 10 ? fromMarch + 3 : fromMarch - 9;
  const ofMonth = ofYear - Math.floor((153 * fromMarch + 2) / 5) + 1;
  return `${year + era * 400 + (month < 3 ? 1 : 0)}-${two(month)}-${two(ofMonth)}`;
};

/** 30 December 1899, the day before the first, counted from 1 March of the year 0. */
const dayZero = 693_899;

const clock = (seconds: number): string =>
  [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60].map(two).join(":");

/**
 * The text of a number as its format means it: an ISO date, a time, a percentage as it is shown, or all digits.
 *
 * @param value as stored: days from the first day of 1900 or of 1904 for dates, a fraction for percentages
 * @source ISO/IEC 29500-1:2016, 18.17.4 (dates and times)
 */
export const meantText = (value: number, meaning: NumberMeaning, from1904 = false): string => {
  if (meaning === "percent") {
    // Moved in the digits, because 0.07 × 100 is not 7.
    const [digits = "", exponent = "0"] = String(value).split("e");
    return `${String(Number(`${digits}e${Number(exponent) + 2}`))}%`;
  }
  if (meaning === "number" || value < 0 || value > 2_958_466) return String(value);
  const seconds = Math.round(value * 86_400);
  if (meaning === "time") return clock(seconds);
  const day = Math.floor(seconds / 86_400);
  // The first sixty days of 1900 are counted as if that year had a 29 February.
  const real = from1904 ? day + 1462 : day < 60 ? day + 1 : day;
  const date = civilDate(real + dayZero);
  return seconds % 86_400 === 0 ? date : `${date}T${clock(seconds % 86_400)}`;
};
