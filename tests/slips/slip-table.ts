/** How many slips of each kind are noticed, on the half of the studies tuned on and on the other half. */
import { slipKinds } from "./slip-kinds.js";
import type { Tried } from "./try-slips.js";

/** Share noticed of some slips, percent, with the counts. */
export type Rate = Readonly<{ noticed: number; named: number; tried: number }>;

export const rateOf = (tried: readonly Tried[]): Rate => ({
  noticed: tried.filter(({ noticed }) => noticed).length,
  named: tried.filter(({ named }) => named).length,
  tried: tried.length,
});

export const percentOf = ({ noticed, tried }: Rate): number =>
  tried === 0 ? NaN : (100 * noticed) / tried;

const shown = (rate: Rate): string =>
  rate.tried === 0
    ? "–".padStart(24)
    : `${String(Math.round(percentOf(rate))).padStart(4)}% ${`${rate.noticed} of ${rate.tried}`.padStart(12)} (${rate.named})`.padStart(
        24,
      );

/** Mean over kinds of the percent noticed; kinds without a place to slip in, or that cannot be known, are left out. */
export const meanOverKinds = (tried: readonly Tried[]): number => {
  const rates = kindsOf(tried)
    .filter((kind) => slipKinds.find(({ name }) => name === kind)?.unknowable === undefined)
    .map((kind) => percentOf(rateOf(tried.filter((one) => one.kind === kind))));
  return rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
};

export const kindsOf = (tried: readonly Tried[]): readonly string[] => [
  ...new Set(tried.map(({ kind }) => kind)),
];

/** The table as text: noticed, of how many, and in brackets how many are called by their name. */
export const slipTable = (tried: readonly Tried[]): string => {
  const halves = [tried.filter(({ tuned }) => tuned), tried.filter(({ tuned }) => !tuned)];
  const line = (name: string, of: (one: Tried) => boolean) =>
    `${name.padEnd(52)}${halves.map((half) => shown(rateOf(half.filter(of)))).join("")}`;
  const columns = ["studies tuned on", "the other studies"];
  return [
    `${"".padEnd(52)}${columns.map((title) => title.padStart(24)).join("")}`,
    ...kindsOf(tried).flatMap((kind) => [
      line(kind, (one) => one.kind === kind),
      ...(["row", "arm", "study"] as const)
        .filter((level) => tried.some((one) => one.kind === kind && one.level === level))
        .map((level) => line(`  ${level}`, (one) => one.kind === kind && one.level === level)),
    ]),
    `${"mean over the kinds that can be known".padEnd(52)}${halves
      .map((half) => `${meanOverKinds(half).toFixed(1)}%`.padStart(24))
      .join("")}`,
  ].join("\n");
};
