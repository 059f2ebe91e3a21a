import type { ScaleDisplay } from "./scale-display.js";

/** A value of the analysis scale as people read it, without its unit. */
export const written = (display: ScaleDisplay, value: number) =>
  display.write(display.toShown(value));

/** An estimate and its interval in a sentence. */
export const valueText = (
  display: ScaleDisplay,
  { estimate, low, high }: Readonly<{ estimate: number; low: number; high: number }>,
): string =>
  `${written(display, estimate)}${display.unit} (${written(display, low)} to ${written(display, high)})`;
