/**
 * One question, one answer, through every door: what the terminal prints, what stands in the report, in the page
 * in a browser and below a notebook's cell has the same digits, at two confidences, with and without a row filter.
 */
import { beforeAll, describe, expect, test } from "vitest";
import { boundAsk } from "../../src/answers/ask.js";
import type { Evidence } from "../../src/answers/evidence.js";
import type { QuestionId } from "../../src/answers/question-list.js";
import { ask, openFile, showAnswer } from "../../src/notebook/ask.js";
import { showOn } from "../../src/notebook/show-on.js";
import { reportHtml } from "../../src/report/report-html.js";
import { protocolGoalPart } from "../../src/report/protocol-parts.js";
import { reportOn } from "../../src/report/report-parts.js";
import { firstWave, historicText, shippedText } from "../answers/evidence-under-test.js";
import { runHere } from "../command/run-here.js";
import { fileOf } from "../command/test-folder.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "../page/page-under-test.js";
import {
  averageRowsIn,
  averagesIn,
  digitsOf,
  intervalsOf,
  saidInHtml,
  saidInText,
  type Said,
} from "./said.js";

/** The contrasts, in the words in which every door says them. */
const contrasts = {
  "change-within-arm": "before to after",
  "against-control": "against no exercise",
  "against-other-limb": "against the person's other limb",
} as const;

const protocols = [
  "4 x 20 s at 70%, rest 60 s, 3/week, 12 weeks, long, knee",
  "4 x (5 x 3 s) at 95%, rest 15 s, 120 s between sets, 3/week, 12 weeks, long, knee",
] as const;

type Options = Readonly<Record<string, string>>;
const wishes: Readonly<Record<string, Options>> = {
  "95%, all rows": {},
  "90%, some rows": { confidence: "0.9", where: "weeks>=8" },
};

const files = {
  "demo-register.csv": shippedText("demo-register.csv"),
  "published-outcomes.csv": shippedText(firstWave),
  "historic.csv": historicText(),
};

const inTerminal = async (
  id: string,
  path: string,
  options: Options,
  ...operands: readonly string[]
): Promise<Said> => {
  const words = Object.entries(options).flatMap(([name, value]) => [`--${name}`, value]);
  const { out, err } = await runHere(id, path, ...operands, ...words);
  expect(err).toBe("");
  return saidInText(out);
};

const inNotebook = async (
  id: QuestionId,
  options: Readonly<Record<string, unknown>>,
): Promise<Said> => {
  const html: string[] = [];
  showOn({
    raw: (type, content) => {
      if (type === "text/html") html.push(content);
    },
  });
  await showAnswer(await ask(id, options));
  return saidInHtml(html.join("\n"));
};

const sectionOf = (html: string, id: string): Said =>
  saidInHtml(html.split(`<section id="${id}">`)[1]?.split("</section>")[0] ?? "");

/** Every number of the words, and of the tables that a terminal shows unasked, stands at every other door. */
const expectSame = (
  terminal: Said,
  doors: Readonly<Record<string, Said>>,
  ofRow: (row: readonly string[]) => readonly string[] = (row) => row,
): void => {
  const titles = Object.keys(terminal.tables);
  const numbers = ({ text, tables }: Said) => ({
    text: digitsOf(text),
    tables: titles.map((title) => [title, (tables[title] ?? []).flatMap(ofRow)]),
  });
  const { text, tables } = numbers(terminal);
  expect(text.length).toBeGreaterThan(3);
  expect(tables.flat(2).length).toBeGreaterThan(1);
  for (const [door, said] of Object.entries(doors))
    expect([door, numbers(said)]).toEqual([door, { text, tables }]);
};

describe.skipIf(!hasBrowser)("every door prints the same digits", () => {
  let path = "";
  let evidence: Evidence;
  let opened: OpenedPage;

  const inPage = async (view: string, options: Options): Promise<Said> => {
    const { page, settled } = opened;
    const hash = `#/${view}?${new URLSearchParams(options).toString()}`;
    await page.evaluate((to) => {
      location.hash = to;
    }, hash);
    await settled();
    // The page puts how it was asked between the headline and the sentences, and folds tables.
    const answer = page.locator(".answer").first();
    const words = [
      await answer
        .locator(".headline")
        .first()
        .evaluate((one) => one.outerHTML),
      // Folded or not, a sentence is said.
      await answer
        .locator(".sentences")
        .first()
        .evaluate((one) =>
          Array.from(one.querySelectorAll("p"), ({ outerHTML }) => outerHTML).join(""),
        ),
    ];
    return saidInHtml(`${words.join("")}<details>${await answer.innerHTML()}</details>`);
  };

  describe.each(Object.entries(files))("%s", (name, content) => {
    beforeAll(async () => {
      path = fileOf(name, content);
      evidence = await openFile(path);
      opened = await openPage({ address: await writePage({ name, content }), hash: "/answers" });
      await opened.settled();
      return opened.close;
    }, 60_000);

    describe.each(Object.entries(wishes))("%s", (wished, wish) => {
      const isCloser = name === "demo-register.csv" && wished.startsWith("90%");
      let report = "";
      beforeAll(async () => {
        report = reportHtml(await reportOn(evidence, wish), new Map());
      });

      test.each(Object.entries(contrasts))("averages, %s", async (contrast, words) => {
        const options = { ...wish, contrast };
        const terminal = await inTerminal("pool", path, options);
        const averages = averagesIn(terminal, words);
        const rows = averageRowsIn(terminal);
        const { groups } = (await ask("pool", options)).data;
        expect(Object.keys(averages).map((group) => group.toLowerCase())).toEqual(
          groups.map(({ group }) => group.toLowerCase()),
        );
        expect(Object.keys(rows)).toEqual(
          groups.flatMap((one) => ("estimate" in one ? [one.group] : [])),
        );
        const doors: Readonly<Record<string, Said>> = {
          notebook: await inNotebook("pool", options),
          page: await inPage("answers", options),
          report: sectionOf(report, `answers-${contrast}`),
        };
        for (const [door, said] of Object.entries(doors)) {
          expect([door, averagesIn(said, words)]).toEqual([door, averages]);
          expect([door, averageRowsIn(said)]).toEqual([door, rows]);
        }
        // Each average once more in the report, looked at closely; what has none is said once.
        for (const one of groups) {
          const { id, group } = one;
          if (!report.includes(`<section id="${id}-${contrast}">`)) {
            expect([group, "estimate" in one]).toEqual([group, false]);
            continue;
          }
          const closer = averagesIn(sectionOf(report, `${id}-${contrast}`), words);
          const own = Object.entries(averages).find(
            ([one]) => one.toLowerCase() === group.toLowerCase(),
          )?.[1];
          expect(Object.values(closer)[0]?.average).toEqual(own?.average);
        }
      });

      test.runIf(isCloser)("variables", async () => {
        const terminal = await inTerminal("variables", path, wish);
        expectSame(
          terminal,
          {
            notebook: await inNotebook("variables", wish),
            page: await inPage("variables", wish),
            report: sectionOf(report, "variables-told"),
          },
          intervalsOf,
        );
      });

      test.runIf(isCloser)("a dose by itself", async () => {
        const options = { ...wish, outcome: "size", on: "intensityPercent" };
        const terminal = await inTerminal("dose", path, { ...options, on: "intensity-percent" });
        const chosen = { "dose-outcome": options.outcome, "dose-on": options.on };
        expectSame(terminal, {
          notebook: await inNotebook("dose", options),
          page: await inPage("dose", { ...wish, ...chosen }),
          report: sectionOf(report, `dose-${options.outcome}-${options.on}`),
        });
      });

      test.runIf(isCloser)("two protocols, projected and compared", async () => {
        const goal = "strength at the trained angle";
        const [first, second] = protocols;
        const projected = await inTerminal("project", path, wish, first);
        const all = await inTerminal("compare", path, wish, first, second, "--all");
        // With --all a terminal also unfolds what other doors fold.
        const unfolded = (await ask("compare", { ...wish, protocol: protocols })).tables
          .filter(({ place }) => place === undefined)
          .map(({ title }) => title);
        const compared: Said = {
          ...all,
          tables: Object.fromEntries(
            Object.entries(all.tables).filter(([title]) => unfolded.includes(title)),
          ),
        };
        const part = await protocolGoalPart(goal)(boundAsk(evidence, wish), {
          protocols: protocols.map((protocol, place) => ({ name: "AB"[place]!, protocol })),
        });
        const html = reportHtml({ source: evidence.source, parts: [part!] }, new Map());
        const id = "protocols-strength-at-the-trained-angle";
        // A report names the protocol where a terminal is asked about one only.
        const named = ({ text, tables }: Said): Said => ({
          text: text.replace(/^A: /, ""),
          tables: Object.fromEntries(
            Object.entries(tables).map(([title, rows]) => [title.replace(/^A: /, ""), rows]),
          ),
        });
        expectSame(
          projected,
          {
            notebook: await inNotebook("project", { ...wish, protocol: first }),
            report: named(sectionOf(html, `${id}-a`)),
          },
          intervalsOf,
        );
        expectSame(
          compared,
          {
            notebook: await inNotebook("compare", { ...wish, protocol: protocols }),
            report: sectionOf(html, `${id}-compared`),
          },
          intervalsOf,
        );
        // The page lays protocols out in its own way: the three ranges of each, then the difference.
        const { page, settled } = opened;
        await page.evaluate(
          (to) => {
            location.hash = to;
          },
          `#/protocols?${new URLSearchParams({ ...wish, "protocols-a": first, "protocols-b": second }).toString()}`,
        );
        await page.waitForSelector(".difference");
        await settled();
        const ranges = await page
          .locator(".projected")
          .first()
          .locator(".range-numbers")
          .allTextContents();
        const told = projected.tables[Object.keys(projected.tables)[0]!]!;
        expect(ranges.map((range) => digitsOf(range.replaceAll("%", "")))).toEqual(
          told.map((row) => digitsOf(row.slice(2, 4).join(" "))),
        );
        const headline = digitsOf((await page.locator(".call .headline").textContent()) ?? "");
        expect(headline.length).toBeGreaterThan(5);
        expect(headline).toEqual(digitsOf(compared.text).slice(0, headline.length));
        const [, differences = []] = Object.entries(compared.tables).find(([title]) =>
          title.startsWith("Differences in projected gain"),
        )!;
        expect(
          (await page.locator(".difference dd").allTextContents()).flatMap((said) =>
            digitsOf(said.replaceAll("%", "")),
          ),
        ).toEqual(digitsOf(differences[0]!.slice(1, 3).join(" ")));
      });
    });
  });
});
