import { join } from "node:path";
import { mustHold, type Bench } from "./bench.js";
import { benchRoot, fromChild } from "./child.js";

type Parts = Readonly<{ slides: number; making: number; drawing: number; pages: number }>;

/** A course beside the drawing of its own pictures. */
export const courseBench: Bench = {
  name: "course",
  title: "A course, beside the drawing of its pictures",
  run: (progress) =>
    Promise.resolve(
      ["published-outcomes.csv", "demo-register.csv"].map((file) => {
        progress(file);
        const { slides, making, drawing, pages } = fromChild("course-parts", [
          join(benchRoot, "data", file),
        ]) as Parts;
        mustHold("every slide is drawn", slides >= 16);
        return {
          what: `course on ${file}, beside drawing its ${slides} slides`,
          value: (making + drawing + pages) / drawing,
          unit: "times" as const,
          how: `making ${making.toFixed(1)} s, drawing ${drawing.toFixed(1)} s, pages ${pages.toFixed(1)} s of the processor; printing left out`,
        };
      }),
    ),
};
