import type { TopLevelSpec } from "vega-lite";

/** A figure: its drawing as an open-standard specification, and words for those who cannot see it. */
export type Figure = Readonly<{
  /** File name without ending, kebab-case. */
  id: string;
  title: string;
  caption: string;
  /** What the figure shows, in words, with its main numbers. */
  description: string;
  specification: TopLevelSpec;
  /** The numbers plotted, a row each, for download. */
  data: readonly Readonly<Record<string, string | number | null>>[];
}>;
