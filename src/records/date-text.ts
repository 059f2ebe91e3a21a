const months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
const monthName =
  /^(jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec|okt|mai|dez|mär|mrz)[a-zé]*\.?$/i;
const otherNames: Readonly<Record<string, number>> = { okt: 10, mai: 5, dez: 12, mär: 3, mrz: 3 };

const monthNumber = (name: string): number => {
  const start = name.slice(0, 3).toLowerCase();
  return otherNames[start] ?? months.indexOf(start) + 1;
};

/**
 * The range somebody typed before a spreadsheet turned it into a date, or undefined for text that is no
 * date: "03-Oct" was 3–10, "Oct-03" and "2024-10-03" were most likely 3–10 or 10–3.
 *
 * @param text a clean cell
 */
export const rangeBehindDate = (text: string): string | undefined => {
  const iso = /^\d{4}[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ][\d:.]+Z?)?$/.exec(text);
  if (iso !== null) return ordered(Number(iso[1]), Number(iso[2]));
  const dayFirst = /^(\d{1,2})[-/.](\d{1,2})[-/.](?:\d{4}|\d{2})(?: [\d:.]+)?$/.exec(text);
  if (dayFirst !== null) return ordered(Number(dayFirst[1]), Number(dayFirst[2]));
  const words = text.split(/[-–/. ]+/).filter((word) => word !== "");
  if (words.length < 2 || words.length > 3) return undefined;
  const month = words.findIndex((word) => monthName.test(word));
  if (month === -1) return undefined;
  const numbers = words.filter((word) => /^\d{1,4}$/.test(word)).map(Number);
  if (numbers.length !== words.length - 1) return undefined;
  return ordered(monthNumber(words[month] ?? ""), numbers[0] ?? 0);
};

const ordered = (one: number, other: number): string =>
  `${Math.min(one, other)}–${Math.max(one, other)}`;
