/** Light for paper and most screens, dark for a darkened room. */
export const figureModes = ["light", "dark"] as const;
export type FigureMode = (typeof figureModes)[number];

/** The colours of one mode, each named by what it is used for. */
export type FigureColours = Readonly<{
  background: string;
  /** Text and strong lines. */
  ink: string;
  /** Text of second rank; still readable on `background` and on `band`. */
  quiet: string;
  /** Soft ground that holds the rows of one study together. */
  band: string;
  grid: string;
  /** The line of no change. */
  zero: string;
  /** Estimates, and their intervals from the middle outwards. */
  mark: string;
  markMiddle: string;
  markOuter: string;
  /** Everything pooled. */
  pooled: string;
  pooledText: string;
  /** Ground inside an outline of what is pooled. */
  pooledTint: string;
  hold: string;
  rest: string;
  empty: string;
  /** What changed, or runs out. */
  changed: string;
}>;

export type FigureTheme = Readonly<{
  font: string;
  /** The book type of headings. */
  headingFont: string;
  sizes: Readonly<{
    title: number;
    subtitle: number;
    heading: number;
    body: number;
    small: number;
  }>;
  modes: Readonly<Record<FigureMode, FigureColours>>;
}>;

/** The look of every figure; the same values stand in `shared/figure-theme.json` for other surfaces. */
export const figureTheme: FigureTheme = {
  font: 'Inter, "Helvetica Neue", Arial, sans-serif',
  headingFont: '"Source Serif 4", Georgia, serif',
  sizes: { title: 18, subtitle: 12, heading: 11, body: 11, small: 11 },
  modes: {
    light: {
      background: "#ffffff",
      ink: "#1b2530",
      quiet: "#566270",
      band: "#f1f4f7",
      grid: "#d3dae1",
      zero: "#3a4653",
      mark: "#173f75",
      markMiddle: "#3f70b0",
      markOuter: "#688dbf",
      pooled: "#b4540a",
      pooledText: "#99450a",
      pooledTint: "#ecd4c2",
      hold: "#4c5b6c",
      rest: "#7d8996",
      empty: "#616d79",
      changed: "#a32e3b",
    },
    dark: {
      background: "#11161d",
      ink: "#e9eef3",
      quiet: "#a6b2bf",
      band: "#1a222b",
      grid: "#33404d",
      zero: "#c2ccd6",
      mark: "#96cdff",
      markMiddle: "#4b92e0",
      markOuter: "#2b6cbd",
      pooled: "#f2a45c",
      pooledText: "#f5b679",
      pooledTint: "#544130",
      hold: "#a4b5c6",
      rest: "#6b7a89",
      empty: "#8592a0",
      changed: "#ee8d96",
    },
  },
};
