/** The course on the page: turned by keys, changed by its outline, and saved with the files the command line writes. */
import { createHash } from "node:crypto";
import { unzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openEvidence } from "../../src/answers/evidence.js";
import { courseFiles, pictureName } from "../../src/course/course-files.js";
import { courseOn } from "../../src/course/course.js";
import { readTable } from "../../src/csv/read-table.js";
import { figuresAt } from "../../src/figures/figure-list.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { fontFaces } from "../../src/host/figure-fonts.js";
import { withoutType } from "../../src/host/figure-svg.js";
import { readProject } from "../../src/page/project-file.js";
import { studiesText } from "../course/three-studies.js";
import { axeProblems } from "./axe-problems.js";
import { dropFile, goTo, savedBy } from "./page-actions.js";
import { numberDifferences } from "./number-differences.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

describe.skipIf(!hasBrowser)("the course on the page", { timeout: 240_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  const name = "three.csv";
  const content = studiesText();
  const fingerprint = createHash("sha256").update(content).digest("hex");
  const course = courseOn(openEvidence({ name, fingerprint, table: readTable(content) }));
  const at = async (): Promise<string> => page.locator(".notes h2").innerText();
  beforeAll(async () => {
    one = await openPage({ address: await writePage({ name, content }) });
    page = one.page;
    page.setDefaultTimeout(60_000);
    await goTo(page, "teach");
    await page.locator(".slides").waitFor();
  }, 240_000);
  afterAll(() => one.close());

  test("slides are the course's, and real keys turn them with their notes", async () => {
    const { slides } = await course;
    expect(await page.locator(".turning option").allTextContents()).toEqual(
      slides.map(({ message }, place) => `${place + 1} of ${slides.length}. ${message}`),
    );
    await expect.poll(at).toBe(slides[0]!.message);
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await expect.poll(at).toBe(slides[2]!.message);
    await page.keyboard.press("ArrowLeft");
    await expect.poll(at).toBe(slides[1]!.message);
    await page.locator(".slides .scroll").focus();
    await page.keyboard.press("End");
    await expect.poll(at).toBe(slides.at(-1)!.message);
    await page.keyboard.press("Home");
    await expect.poll(at).toBe(slides[0]!.message);
    await page.getByRole("combobox", { name: "Slide" }).selectOption(slides[3]!.id);
    const notes = await page.locator(".notes").innerText();
    for (const text of Object.values(slides[3]!.notes)) expect(notes).toContain(text);
    // In a field the same keys move the cursor.
    await page.getByText("Change the outline").click();
    await page.getByLabel("The outline").focus();
    await page.keyboard.press("ArrowRight");
    await expect.poll(at).toBe(slides[3]!.message);
    await page.getByText("Change the outline").click();
  });

  test("on the whole screen the keys go through the slides, and the page follows", async () => {
    const { slides } = await course;
    await one.settled();
    await page.getByRole("button", { name: "Full screen" }).click();
    const dialog = page.locator("dialog.full-screen");
    await dialog.locator("img").waitFor();
    expect(await dialog.getByRole("status").innerText()).toContain(`Slide 4 of ${slides.length}`);
    await page.keyboard.press("ArrowRight");
    await expect
      .poll(() => dialog.getByRole("status").innerText())
      .toContain(`Slide 5 of ${slides.length}`);
    await dialog.getByRole("button", { name: "Close" }).click();
    await expect.poll(at).toBe(slides[4]!.message);
  });

  test("saved as one file: pages, texts and drawings are those the command line writes", async () => {
    const made = await course;
    await one.settled();
    await one.longTasks();
    const { name: saved, bytes } = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the course" }).click(),
    );
    expect(saved).toBe("three-course.zip");
    const files = unzipSync(new Uint8Array(bytes));
    const text = (path: string): string => new TextDecoder().decode(files[path]);
    const drawings = new Map<string, string>();
    for (const [place, slide] of made.slides.entries()) {
      const path = pictureName(place, slide);
      const svg = await drawSvg(figuresAt("slide")(slide.figure)[0]!);
      // Two engines may differ in a last bit, which nobody sees.
      expect(numberDifferences(text(`${path}.svg`), svg), path).toEqual([]);
      drawings.set(slide.figure.data.id, withoutType(text(`${path}.svg`)));
      // A PNG says its size in its first chunk.
      const png = Buffer.from(files[`${path}.png`]!);
      expect([png.toString("latin1", 1, 4), png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([
        "PNG",
        1920,
        1080,
      ]);
    }
    const written = courseFiles(made, (id) => drawings.get(id)!, fontFaces(), [name]);
    for (const file of written) expect(text(file.name), file.name).toBe(file.content);
    expect(text(`quiz/data/${name}`)).toBe(content);
    expect(Object.keys(files)).toHaveLength(written.length + 2 * made.slides.length + 2);
    expect(text("to-print.txt")).toContain("print");
    expect(Math.max(0, ...(await one.longTasks()))).toBeLessThan(400);
  });

  test("saving ends when it is cancelled, and can be asked for again", async () => {
    await page.getByRole("button", { name: "Save the course" }).click();
    await page.locator(".busy button", { hasText: "Cancel" }).click();
    await one.settled();
    const save = page.getByRole("button", { name: "Save the course" });
    await expect.poll(() => save.isEnabled()).toBe(true);
    const { bytes } = await savedBy(page, () => save.click());
    expect(Object.keys(unzipSync(new Uint8Array(bytes))).length).toBeGreaterThan(40);
  });

  test("an outline that cannot be read is told with its mend; a sound one is the course", async () => {
    await page.getByText("Change the outline").click();
    const outline = page.getByLabel("The outline");
    const make = page.getByRole("button", { name: "Make this course" });
    await outline.fill('{"slides": [{"slide": "averge"}]}');
    await make.click();
    expect(await page.getByRole("alert").innerText()).toContain("did you mean average?");
    await outline.fill(
      '{"title": "Term two", "outcome": "sise", "slides": [{"slide": "average", "title": "Muscles grow"}]}',
    );
    await make.click();
    await expect.poll(() => page.locator("main").innerText()).toContain("did you mean size?");
    await outline.fill(
      '{"title": "Term two", "slides": [{"slide": "average", "title": "Muscles grow"}, {"slide": "sources"}]}',
    );
    await make.click();
    await page.locator(".slides").waitFor();
    expect(await page.locator(".headline").innerText()).toMatch(/^Term two, 2 slides/);
    await expect.poll(at).toBe("Muscles grow");
  });

  test("an outline that is half typed is there when one comes back, and no course is made of it", async () => {
    const half = '{"title": "Term three", "slides": [{"slide": "averag';
    await page.getByLabel("The outline").fill(half);
    await page.evaluate(() => {
      location.hash = "#/data";
    });
    await page.locator(".slides").waitFor({ state: "detached" });
    await goTo(page, "teach");
    await page.locator(".slides").waitFor();
    // Seen without a click.
    expect(await page.getByLabel("The outline").inputValue()).toBe(half);
    expect(await page.getByLabel("The outline").isVisible()).toBe(true);
    expect(await page.locator(".headline").innerText()).toMatch(/^Term two, 2 slides/);
  });

  test("a project keeps the outline that was made, and opens with its course", async () => {
    const project = await savedBy(page, () =>
      page.getByRole("button", { name: "Save project" }).click(),
    );
    expect(readProject(project.text).outline).toContain('"Term two"');
    const second = await openPage();
    await dropFile(second.page, "h1", project.name, project.bytes);
    await second.page.locator(".slides").waitFor();
    expect(await second.page.locator(".headline").innerText()).toMatch(/^Term two, 2 slides/);
    await second.page.getByText("Change the outline").click();
    expect(await second.page.getByLabel("The outline").inputValue()).toContain("Muscles grow");
    await second.close();
  });

  test("with an older file the notes say what moved, and the sheet of changes is saved too", async () => {
    await page.getByText("Every slide again").click();
    await page.evaluate(() => {
      location.hash = "#/new";
    });
    const older = studiesText(["Kubo 2001 J Physiol", "Massey 2018"]);
    await page
      .getByLabel("Older file")
      .setInputFiles({ name: "older.csv", mimeType: "text/csv", buffer: Buffer.from(older) });
    await goTo(page, "teach");
    await page.getByText("Set beside older.csv").waitFor();
    await page.getByRole("combobox", { name: "Slide" }).selectOption("sources");
    expect(await page.locator(".notes").innerText()).toContain(
      "Since older.csv: 3 studies behind three.csv, and what each brings: 9 rows of 2 studies before, 13 rows of 3 studies now.",
    );
    await one.settled();
    const { bytes } = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the course" }).click(),
    );
    const sheet = unzipSync(new Uint8Array(bytes))["what-changed.html"];
    expect(new TextDecoder().decode(sheet)).toContain("Balshaw 2016");
  });

  test("another older file of the same name is another file", async () => {
    await page.evaluate(() => {
      location.hash = "#/new";
    });
    // As many bytes as a file could have that differs in one study.
    const older = studiesText(["Kubo 2001 J Physiol"]);
    await page
      .getByLabel("Older file")
      .setInputFiles({ name: "older.csv", mimeType: "text/csv", buffer: Buffer.from(older) });
    await goTo(page, "teach");
    await expect
      .poll(() => page.locator(".notes").innerText(), { timeout: 60_000 })
      .not.toContain("9 rows of 2 studies before");
    await page.getByRole("combobox", { name: "Slide" }).selectOption("sources");
    expect(await page.locator(".notes").innerText()).toContain(" 1 study before");
  });

  test("on a phone and a laptop, light and dark: nothing sideways, nothing the checker finds", async () => {
    const found: string[] = [];
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      for (const width of [360, 1280]) {
        await page.setViewportSize({ width, height: 740 });
        await one.settled();
        const { sideways, top } = await page.evaluate(() => {
          scrollTo(0, 0);
          const { scrollWidth, clientWidth } = document.documentElement;
          const figure = document.querySelector(".slides img")!.getBoundingClientRect();
          return { sideways: scrollWidth - clientWidth, top: figure.top };
        });
        if (sideways > 0) found.push(`${width}: ${sideways} px wider than the screen`);
        if (top > 600) found.push(`${width}: the slide begins at ${top}`);
        for (const problem of await axeProblems(page, "everything"))
          found.push(`${colorScheme} ${width}: ${problem}`);
      }
    }
    expect(found).toEqual([]);
    expect(one.complaints()).toEqual([]);
    expect(one.requests()).toEqual([]);
  });
});
