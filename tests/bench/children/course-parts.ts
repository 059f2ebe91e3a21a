/** Makes the course on a file and draws its slides, and prints the seconds of the processor that each part took. */
import { readFileSync } from "node:fs";
import { openEvidence } from "../../../src/answers/evidence.js";
import { courseFiles } from "../../../src/course/course-files.js";
import { courseOn } from "../../../src/course/course.js";
import { readTable } from "../../../src/csv/read-table.js";
import { figuresAt } from "../../../src/figures/figure-list.js";
import { drawFigure } from "../../../src/host/draw-figure.js";

const [path = ""] = process.argv.slice(2);
const table = readTable(readFileSync(path));
const evidence = openEvidence({ name: "course.csv", fingerprint: "0".repeat(64), table });
const timed = async <Made>(work: () => Promise<Made>) => {
  const began = process.cpuUsage();
  const made = await work();
  const { user, system } = process.cpuUsage(began);
  return { made, seconds: (user + system) / 1e6 };
};
const course = await timed(() => courseOn(evidence));
const drawing = await timed(async () => {
  const svgs = new Map<string, string>();
  for (const { figure } of course.made.slides)
    svgs.set(figure.data.id, (await drawFigure(figuresAt("slide")(figure)[0]!)).svg);
  return svgs;
});
const pages = await timed(() =>
  Promise.resolve(courseFiles(course.made, (id) => drawing.made.get(id) ?? "", "", ["course.csv"])),
);
process.stdout.write(
  JSON.stringify({
    slides: drawing.made.size,
    making: course.seconds,
    drawing: drawing.seconds,
    pages: pages.seconds,
  }),
);
