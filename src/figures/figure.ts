import type { TopLevelSpec } from "vega-lite";

/** A figure: its drawing as an open-standard specification, and words for those who cannot see it. */
export type Figure = Readonly<{
  /** File name without ending, kebab-case. */
  id: string;
  title: string;
  caption: string;
  /** What a slide says first under the drawing: the key of its marks, and what it leaves out. */
  brief?: string;
  /** What the figure shows, in words, with its main numbers. */
  description: string;
  specification: TopLevelSpec;
  /** How wide the drawing is, in drawing units, where axes of the drawing library add to its panels. */
  width?: number;
  /** And how high. */
  height?: number;
  /** How the picture of it is made; one point a drawing unit, and as large as what is drawn, where left out. */
  picture?: Readonly<{
    /** Points of the picture for one drawing unit. */
    scale: number;
    /** Width and height of the picture, with what is drawn at its top left. */
    points?: readonly [number, number];
  }>;
  /** The numbers plotted, a row each, for download. */
  data: readonly Readonly<Record<string, string | number | null>>[];
}>;
