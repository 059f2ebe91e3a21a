const words: ReadonlySet<string> = new Set([
  "not reported",
  "not stated",
  "not given",
  "not available",
  "not applicable",
  "not specified",
  "unreported",
  "unknown",
  "unclear",
  "missing",
  "nr",
  "n.r.",
  "n/r",
  "na",
  "n.a.",
  "n/a",
  "nan",
  "null",
  "-",
  "–",
  "—",
  "--",
  "?",
  ".",
]);

/** Whether a clean cell says that the source was searched and does not tell: "not reported", "NR", "n/a", "–". */
export const saysNotReported = (cell: string): boolean =>
  cell.length <= 14 && words.has(cell.toLowerCase());
