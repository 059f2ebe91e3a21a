/** The course in a browser: slides turned by real keys, and every page as it is printed. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, describe, expect, test } from "vitest";
import { courseFiles } from "../../src/course/course-files.js";
import { courseOn } from "../../src/course/course.js";
import { chromiumHere, printPage } from "../../src/host/print-page.js";
import { fontFaces } from "../../src/host/figure-fonts.js";
import { hasBrowser, openPage, pageFolder } from "../page/page-under-test.js";
import { evidence, opened } from "./courses-under-test.js";
import { studiesText } from "./three-studies.js";

/** A picture of a slide's size stands for each. */
const drawn = (id: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="1920" height="1080" viewBox="0 0 1920 1080"><title>${id}</title><rect width="1920" height="1080"/></svg>`;

describe.skipIf(!hasBrowser)("a course in a browser", { timeout: 240_000 }, async () => {
  const folder = mkdtempSync(join(pageFolder, "course-"));
  afterAll(() => rmSync(folder, { recursive: true }));
  const older = opened("last-year.csv", "d", studiesText(["Massey 2018"]));
  const courses = {
    three: await courseOn(evidence.three, { since: older }),
    library: await courseOn(evidence.library),
  };
  const written = Object.entries(courses).map(([name, course]) => {
    const paths = courseFiles(course, drawn, fontFaces(), [`${name}.csv`]).map((file) => {
      const path = join(folder, `${name}-${basename(file.name)}`);
      writeFileSync(path, file.content);
      return path;
    });
    return { course, pathOf: (end: string) => paths.find((path) => path.endsWith(`-${end}`))! };
  });
  const [three] = written;

  test("arrows, home, end turn the slides, n shows the notes, the address keeps the place", async () => {
    const { slides } = three!.course;
    const address = pathToFileURL(three!.pathOf("slides.html")).href;
    const { page, close, complaints, requests } = await openPage({ address });
    const shown = () =>
      page.evaluate(() => ({
        slides: [...document.querySelectorAll(".slide")]
          .filter((one) => one.getBoundingClientRect().height > 0)
          .map((one) => one.getAttribute("aria-label")),
        notes: [...document.querySelectorAll(".note")].filter(
          (one) => one.getBoundingClientRect().height > 0,
        ).length,
        address: location.hash,
      }));
    const at = (place: number, notes = 0) => ({
      slides: [`${place + 1}. ${slides[place]!.message}`],
      notes,
      address: `#${place + 1}`,
    });
    expect(await shown()).toEqual(at(0));
    const last = slides.length - 1;
    for (const [key, place, notes] of [
      ["ArrowLeft", 0, 0],
      ["ArrowRight", 1, 0],
      ["ArrowRight", 2, 0],
      ["ArrowLeft", 1, 0],
      ["n", 1, 1],
      ["End", last, 1],
      ["ArrowRight", last, 1],
      ["n", last, 0],
      ["Home", 0, 0],
      ["Space", 1, 0],
    ] as const) {
      await page.keyboard.press(key);
      expect(await shown(), key).toEqual(at(place, notes));
    }
    await page.reload();
    expect(await shown()).toEqual(at(1));
    expect(complaints()).toEqual([]);
    expect(requests()).toEqual([]);
    await close();
  });

  test("printed: a page a slide, a page a note, a handout of four, one sheet of changes; nothing is cut", async () => {
    const printer = await chromiumHere();
    const pagesOf = async (html: string): Promise<number> => {
      const pdf = html.replace(/html$/, "pdf");
      expect(await printPage(printer!, html, pdf)).toBe(true);
      return readFileSync(pdf, "latin1").match(/\/Type\s*\/Page\b(?!s)/g)!.length;
    };
    for (const { course, pathOf } of written) {
      const { length } = course.slides;
      expect(await pagesOf(pathOf("slides.html"))).toBe(length);
      expect(await pagesOf(pathOf("notes.html"))).toBe(length);
      expect(await pagesOf(pathOf("handout.html"))).toBe(4);
      const sheets = ["notes.html", "handout.html"];
      if (course.since !== undefined) sheets.push("what-changed.html");
      for (const name of sheets) {
        const { page, close } = await openPage({ address: pathToFileURL(pathOf(name)).href });
        await page.emulateMedia({ media: "print" });
        const cut = await page.evaluate(() =>
          [...document.querySelectorAll<HTMLElement>(".sheet")].flatMap((one, place) => {
            const foot = one.querySelector(".foot")!.getBoundingClientRect().top;
            const low = Math.max(
              ...[...one.querySelectorAll(":scope > :not(.foot)")].map(
                (part) => part.getBoundingClientRect().bottom,
              ),
            );
            return low > foot
              ? [`page ${place + 1}: ${Math.round(low - foot)} px over its foot`]
              : [];
          }),
        );
        expect(cut, `${course.title} ${name}`).toEqual([]);
        await close();
      }
    }
    expect(await pagesOf(three!.pathOf("what-changed.html"))).toBe(1);
  });
});
