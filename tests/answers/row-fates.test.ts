import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { averageOf } from "../../src/answers/average.js";
import { linesOf, type Evidence } from "../../src/answers/evidence.js";
import { resolvedOptions } from "../../src/answers/option.js";
import { poolGroups } from "../../src/answers/pool-groups.js";
import { poolShape } from "../../src/answers/pool.js";
import { fateWords, pooledContrasts } from "../../src/answers/row-fates.js";
import { writeTable } from "../../src/csv/write-table.js";
import {
  firstWave,
  codebookText,
  evidenceOf,
  historicEvidence,
  outcomeRow,
  shippedEvidence,
} from "./evidence-under-test.js";

const files: readonly (readonly [string, () => Evidence])[] = [
  ["demo", () => shippedEvidence("demo-register.csv")],
  ["published", () => shippedEvidence(firstWave)],
  ["historic", historicEvidence],
];
const filters = [undefined, "outcome_family=strength", "weeks>=8", "arm_kind=isometric, n_end>=10"];

/** Lines behind every average that can be made, fitted one by one: headline and all angles and weeks. */
const averagedLines = (evidence: Evidence, where: string | undefined): readonly number[] => {
  const lines = pooledContrasts.flatMap((contrast) => {
    const options = resolvedOptions(poolShape, { contrast, ...(where && { where }) });
    return poolGroups(evidence, options).groups.flatMap(({ headline, wider }) =>
      [headline, ...(wider === undefined ? [] : [wider])].flatMap((input) =>
        averageOf(input, options).kind === "average" ? linesOf(input.set!) : [],
      ),
    );
  });
  return [...new Set(lines)].sort((first, second) => first - second);
};

describe.each(files)("%s", (_name, open) => {
  test.each(filters)(
    "rows %s: the three add up, and averaged is what the averages hold",
    async (where) => {
      const evidence = open();
      const { data } = await ask("check", where === undefined ? {} : { where }, evidence);
      const counts = fateWords.map((word) => data.fates.filter(({ fate }) => fate === word).length);
      expect(counts.reduce((sum, count) => sum + count)).toBe(evidence.records.rowsInFile);
      expect(data.fates.map(({ line }) => line)).toEqual(
        evidence.table.rows.map(({ line }) => line),
      );
      expect(data.counts).toBe(
        `${evidence.records.rowsInFile} rows: ${counts[0]} averaged; ${counts[1]} kept, not averaged; ${counts[2]} set aside`,
      );
      expect(data.rowsUsed).toEqual(averagedLines(evidence, where));
      for (const { fate, reason, wanted, line } of data.fates) {
        expect(reason, String(line)).not.toBe("");
        expect(wanted === "", String(line)).toBe(fate === "averaged");
      }
    },
  );
});

test("the starter file by hand: 9 strength, 4 size, 3 tendon and 2 rapid force rows have a spread of their own", async () => {
  const { headline, data } = await ask(
    "check",
    { borrowedSpread: "none" },
    shippedEvidence(firstWave),
  );
  expect(headline).toBe(
    "published-outcomes.csv can be used. 54 rows: 18 averaged; 36 kept, not averaged; 0 set aside.",
  );
  const averaged = new Map<string, number>();
  for (const { fate, reason } of data.fates)
    if (fate === "averaged") averaged.set(reason, (averaged.get(reason) ?? 0) + 1);
  expect([...averaged].sort()).toEqual([
    ["rapid force", 2],
    ["size", 4],
    ["strength", 9],
    ["tendon", 3],
  ]);
});

test("the number that is asked for is the number that helps: given it, the row becomes an effect", async () => {
  const evidence = shippedEvidence(firstWave);
  const { data } = await ask("check", { borrowedSpread: "none" }, evidence);
  const { header, rows } = evidence.table;
  const invented: Readonly<Record<string, string>> = { n_end: "13", change_percent_spread: "9" };
  const asked = data.fates.filter(
    ({ fate, wanted }) => fate !== "averaged" && /\((?:n_end|change_percent_spread)\)/.test(wanted),
  );
  expect(asked).toHaveLength(27);
  const wantedAt = new Map(asked.map(({ line, wanted }) => [line, wanted]));
  const filled = rows.map(({ line, cells }) =>
    header.map((name, place) =>
      wantedAt.get(line)?.includes(`(${name})`) === true ? invented[name]! : (cells[place] ?? ""),
    ),
  );
  const after = evidenceOf(writeTable(header, filled));
  const { data: effects } = await ask("effects", { armKinds: "isometric,dynamic" }, after);
  const lines = new Set(effects.effects.map(({ line }) => line));
  const kinds = new Map(after.records.rows.map(({ line, armKind }) => [line, armKind]));
  for (const line of wantedAt.keys())
    if (kinds.get(line) !== "no exercise") expect(lines, String(line)).toContain(line);
});

test("a refused row is set aside with its mend; a repeated row, a row not asked for, and a lone study say why", async () => {
  const rows = [
    outcomeRow("Ash 2001", 120),
    outcomeRow("Birch 2002", 130),
    outcomeRow("Birch 2002", 130),
    outcomeRow("Cedar 2003", 110, { weeks: "many" }),
    outcomeRow("Dogwood 2004", 140, { outcome_family: "size", outcome: "muscle volume" }),
    outcomeRow("Elm 2005", 125, { weeks: 4 }),
    outcomeRow("Fir 2006", 125, { pre_spread: "", post_spread: "", n_end: "" }),
  ];
  const { data } = await ask("check", { where: "weeks>=6" }, evidenceOf(codebookText(rows)));
  const told = data.fates.map(({ fate, reason, wanted }) => [fate, reason, wanted].join(" | "));
  expect(told[0]).toBe("averaged | strength | ");
  expect(told[1]).toBe("averaged | strength | ");
  expect(told[2]).toMatch(/^set aside \| repeats line 3/);
  expect(told[3]).toMatch(/^set aside \| .*weeks.* \| .+/);
  expect(told[4]).toBe(
    "kept, not averaged | single study: only Dogwood 2004 has size (before to after) | a second study that measured it in the same way",
  );
  expect(told[5]).toMatch(/^set aside \| not among the rows asked for \(weeks>=6\)/);
  expect(told[6]).toMatch(/^kept, not averaged \| how many .*\(n_end\); and a spread \(pre_spread/);
});

test("ready effects: all of them are averaged, or none where one study has them", async () => {
  const of = async (text: string) => (await ask("check", {}, evidenceOf(text))).data.counts;
  expect(await of("study,effect,variance\na,1,0.2\nb,2,0.3\nc,x,0.3\n")).toBe(
    "3 rows: 2 averaged; 0 kept, not averaged; 1 set aside",
  );
  expect(await of("study,effect,variance\na,1,0.2\na,2,0.3\n")).toBe(
    "2 rows: 0 averaged; 2 kept, not averaged; 0 set aside",
  );
});
