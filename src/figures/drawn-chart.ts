/** A chart as a figure holds it. */
import type { Figure } from "./figure.js";
import { themeConfig } from "./theme-config.js";

/** What a figure holds of a chart: the drawing under its title, and how wide and high it is. */
export const drawnChart = (
  { view, width, height }: Readonly<{ view: object; width: number; height: number }>,
  { description, ...title }: Readonly<{ text: string[]; subtitle?: string[]; description: string }>,
): Pick<Figure, "description" | "width" | "height" | "specification"> => ({
  description,
  width,
  height,
  specification: {
    $schema: "https://vega.github.io/schema/vega-lite/v6.json",
    description,
    title,
    ...view,
    config: themeConfig("light"),
  } as unknown as Figure["specification"],
});
