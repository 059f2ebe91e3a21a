/** A quantity that enters a formula. */
export type Quantity = Readonly<{ symbol: string; meaning: string; value: string }>;

/** A line of a calculation: the formula, the same with its numbers, and what comes out. */
export type Step = Readonly<{ formula: string; numbers: string; result: string }>;

/** A calculation in full, with where its formula comes from. */
export type Working = Readonly<{
  title: string;
  quantities: readonly Quantity[];
  steps: readonly Step[];
  source: string;
}>;

/** A calculation and what it gives, to be held against what the library gave. */
export type WorkedEstimate = Readonly<{ working: Working; estimate: number; variance: number }>;

/** A number in a calculation: six digits, minus as a sign, brackets where it is negative. */
export const figureOf = (value: number): string => {
  const text = String(Number(Math.abs(value).toPrecision(6)));
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
};

/** The same inside a sum or product. */
export const factorOf = (value: number): string =>
  value < 0 ? `(${figureOf(value)})` : figureOf(value);
