import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { readResults } from "../../src/answers/older-file.js";
import { changedHtml } from "../../src/course/changed-html.js";
import { courseOn } from "../../src/course/course.js";
import { courseFiles } from "../../src/course/course-files.js";
import { readTable } from "../../src/csv/read-table.js";
import { opened } from "./courses-under-test.js";
import { studiesText } from "./three-studies.js";

const name = "last-year.csv";
const studies = ["Davies 1988", "Folland 2005", "Driss 2014", "Kubo 2001 J Physiol"];
const text = studiesText(studies);
const older = opened(name, "d", text);
const newer = opened("this-year.csv", "c", studiesText([...studies, "Fimland 2009"]));
const before = await courseOn(older);
const { lead, slides: now } = await courseOn(newer);
const course = await courseOn(newer, { since: older });
const since = course.since!;
const newRows = readTable(studiesText(["Fimland 2009"])).rows.length;

test("the trials that came are counted as they stand in the file", () => {
  expect(since.studies).toEqual([{ study: "Fimland 2009", what: `${newRows} added` }]);
});

test("a slide has a line in its notes when what it says is another than last year, and then only", async () => {
  const { data } = await ask("changes", { older }, newer);
  const conclusions = new Set(
    data.changes.filter(({ isMoved }) => isMoved).map((one) => one.about),
  );
  let moved = 0;
  for (const [place, { id, notes }] of course.slides.entries()) {
    const last = before.slides.find((one) => one.id === id)!.notes.number;
    const isOther = last.replaceAll(name, "this-year.csv") !== notes.number;
    const told = since.moved.filter((one) => one.place === place);
    if (isOther) expect(told, id).not.toEqual([]);
    for (const { about } of told) expect(conclusions.has(about) || isOther, about).toBe(true);
    const { moved: line, ...others } = notes;
    expect(others, id).toEqual(now[place]!.notes);
    expect(line?.startsWith(`Since ${name}: `) ?? false, id).toBe(told.length > 0);
    for (const one of told.slice(0, 3)) {
      expect(line).toContain(`${one.before} before, ${one.now} now`);
      moved += 1;
    }
    if (told.length > 3) expect(line).toContain(`${told.length - 3} more moved here`);
  }
  expect(moved).toBeGreaterThan(3);
  expect(course.slides.some(({ notes }) => notes.moved === undefined)).toBe(true);
});

test("the average that moved stands before and now as each file prints it", async () => {
  const printed = async (file: typeof older): Promise<string> =>
    (await ask("pool", { outcome: lead.id }, file)).headline;
  const place = course.slides.findIndex(({ id }) => id === "average");
  const own = since.moved.find(
    (one) => one.place === place && one.about.includes("before to after"),
  );
  const [old, young] = [await printed(older), await printed(newer)];
  expect(old).not.toBe(young);
  for (const [words, headline] of [
    [own!.before, old],
    [own!.now, young],
  ] as const) {
    const number = /^[−\d.]+%/.exec(words)?.[0];
    if (number === undefined) expect(words).toMatch(/^no/);
    else expect(headline).toContain(number);
  }
});

test("one sheet among the files of the course names every slide that moved, or counts what has no room", () => {
  const files = courseFiles(course, () => "<svg></svg>", "", ["this-year.csv"]);
  const html = files.find((one) => one.name === "what-changed.html")!.content;
  expect(html).toBe(changedHtml(course, since));
  expect(html.match(/class="sheet"/g)).toHaveLength(1);
  expect(html).toContain("Fimland 2009");
  const rows = html.match(/class="row"/g)!.length - since.studies.length;
  const more = [...html.matchAll(/>(\d+) more /g)].reduce(
    (sum, [, count]) => sum + Number(count),
    0,
  );
  expect(rows + more).toBe(since.moved.length);
  const plain = courseFiles(before, () => "<svg></svg>", "", [name]);
  expect(plain.map((one) => one.name)).not.toContain("what-changed.html");
});

test("the same file again: nothing moved; a report whose rows are gone: what it printed", async () => {
  const same = await courseOn(older, { since: opened("copy.csv", "e", text) });
  expect(same.since).toMatchObject({ moved: [], studies: [] });
  expect(same.slides).toEqual(before.slides);
  const answers = [(await ask("pool", {}, older)).data, (await ask("variables", {}, older)).data];
  const results = readResults(
    JSON.stringify({
      holdbook: "0",
      file: name,
      fingerprint: "d".repeat(64),
      invented: false,
      answers,
    }),
  );
  const told = (await courseOn(newer, { since: results })).since!;
  expect(told.studies).toEqual([]);
  const withRows = since.moved.filter(({ by }) => by !== "").map(({ about }) => about);
  const without = told.moved.map(({ about }) => about);
  expect(without.length).toBeGreaterThan(0);
  for (const about of withRows.filter((one) => one.includes("before to after")))
    expect(without).toContain(about);
});
