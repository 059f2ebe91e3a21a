import { describe, expect, test } from "vitest";
import { armIdsReused } from "../../../src/records/checks/arm-ids-reused.js";
import { spreadOutOfScale } from "../../../src/records/checks/spread-out-of-scale.js";
import { idsAlike } from "../../../src/records/checks/ids-alike.js";
import { levelsAgree } from "../../../src/records/checks/levels-agree.js";
import { samePeopleTwice } from "../../../src/records/checks/same-people-twice.js";
import { sameRowTwice } from "../../../src/records/checks/same-row-twice.js";
import { sharedCohorts } from "../../../src/records/checks/shared-cohorts.js";
import { codesOf, rowOf } from "../record-table.js";

describe("levelsAgree", () => {
  test("names both lines, once for each differing value, whatever the level", () => {
    const rows = [
      rowOf({ line: 2, year: 2019, weeks: 8 }),
      rowOf({ line: 3, weeks: 6 }),
      rowOf({ line: 4, weeks: 6, year: 2018 }),
      rowOf({ line: 5, arm: "control", weeks: 3, year: 2019 }),
    ];
    const issues = levelsAgree(rows);
    expect(codesOf(issues)).toEqual(["rows-disagree@3", "rows-disagree@4"]);
    expect(issues[0]?.message).toBe("weeks holds for the whole arm, and line 2 says 8");
    expect(issues[1]?.message).toBe("year holds for the whole study, and line 2 says 2019");
  });

  test("equal lists of angles agree; people measured may differ between outcomes", () => {
    const rows = [
      rowOf({ line: 2, trainingAngleDegrees: [30, 60], nEnd: 14 }),
      rowOf({ line: 3, trainingAngleDegrees: [30, 60], nEnd: 12 }),
    ];
    expect(levelsAgree(rows)).toEqual([]);
  });
});

describe("idsAlike", () => {
  test("spellings that differ in case, accents or punctuation", () => {
    const rows = [
      rowOf({ line: 2, study: "Noorkõiv 2014" }),
      rowOf({ line: 3, study: "Noorkoiv, 2014" }),
      rowOf({ line: 4, study: "Noorkõiv 2014", arm: "Long  holds" }),
      rowOf({ line: 5, study: "Ashdown 2019", arm: "LONG HOLDS" }),
    ];
    expect(codesOf(idsAlike(rows))).toEqual(["ids-alike@3", "ids-alike@4"]);
  });
});

describe("samePeopleTwice", () => {
  const twin = { line: 9, study: "Pell 2020", postMean: 210 };

  test("equal people, baseline mean and spread in two studies", () => {
    expect(codesOf(samePeopleTwice([rowOf(), rowOf(twin)]))).toEqual(["same-people-twice@9"]);
  });

  test("not when the file says they are one cohort, not for round numbers, not within a study", () => {
    const cohort = { cohort: "Ashdown" };
    expect(samePeopleTwice([rowOf(cohort), rowOf({ ...twin, ...cohort })])).toEqual([]);
    const round = { preMean: 50, preSpread: 10 };
    expect(samePeopleTwice([rowOf(round), rowOf({ ...twin, ...round })])).toEqual([]);
    expect(samePeopleTwice([rowOf(), rowOf({ line: 3, weekMeasured: 4 })])).toEqual([]);
  });

  test("in a long file only at the second coincidence of two arms", () => {
    const filler = Array.from({ length: 2000 }, (_, i) =>
      rowOf({ line: 100 + i, study: `S${i}`, preMean: 1000.123 + i }),
    );
    const again = { preMean: 99.25, preSpread: 12.75 };
    expect(samePeopleTwice([rowOf(), rowOf(twin), ...filler])).toEqual([]);
    const twice = [rowOf(), rowOf(twin), rowOf(again), rowOf({ ...twin, ...again, line: 10 })];
    expect(codesOf(samePeopleTwice([...twice, ...filler]))).toEqual(["same-people-twice@10"]);
  });
});

describe("spreadOutOfScale", () => {
  const peers = [0.16, 0.18, 0.2, 0.22].map((variation, i) =>
    rowOf({
      line: 10 + i,
      study: `P${i}`,
      nEnd: 16,
      preMean: 100,
      preSpread: 100 * variation,
      postMean: 104,
      postSpread: 104 * variation,
    }),
  );

  test("a deviation that is too small by √n, and an error that is too large by √n", () => {
    const small = rowOf({
      line: 20,
      study: "Q",
      nEnd: 16,
      preMean: 100,
      preSpread: 5,
      postMean: 104,
      postSpread: 5.2,
    });
    expect(codesOf(spreadOutOfScale([...peers, small]))).toEqual(["error-for-deviation@20"]);
    const large = rowOf({
      line: 21,
      study: "R",
      nEnd: 16,
      preMean: 100,
      preSpread: 19,
      postMean: 104,
      postSpread: 20,
      spreadKind: "standard error",
    });
    expect(codesOf(spreadOutOfScale([...peers, large]))).toEqual(["deviation-for-error@21"]);
  });

  test("an honest standard error and an unusual spread pass", () => {
    const honest = rowOf({
      line: 20,
      study: "Q",
      nEnd: 16,
      preMean: 100,
      preSpread: 5,
      postMean: 104,
      postSpread: 5.2,
      spreadKind: "standard error",
    });
    const narrow = rowOf({
      line: 21,
      study: "R",
      nEnd: 16,
      preMean: 100,
      preSpread: 9,
      postMean: 104,
      postSpread: 9,
    });
    expect(spreadOutOfScale([...peers, honest, narrow])).toEqual([]);
  });

  test("too few other studies say nothing", () => {
    const small = rowOf({
      line: 20,
      study: "Q",
      nEnd: 16,
      preMean: 100,
      preSpread: 5,
      postMean: 104,
      postSpread: 5.2,
    });
    expect(spreadOutOfScale([...peers.slice(0, 2), small])).toEqual([]);
  });

  test("spreads before and after in the ratio √n", () => {
    const mixed = rowOf({ nEnd: 25, preSpread: 30, postSpread: 6 });
    expect(codesOf(spreadOutOfScale([mixed]))).toEqual(["spreads-of-two-kinds@2"]);
  });

  test("units change nothing: a study in pounds raises the doubts of one in kilograms", () => {
    const small = rowOf({
      line: 20,
      study: "Q",
      nEnd: 16,
      preMean: 100,
      preSpread: 5,
      postMean: 104,
      postSpread: 5.2,
    });
    const pounds = {
      ...small,
      preMean: 220.5,
      preSpread: 11.025,
      postMean: 229.3,
      postSpread: 11.466,
    };
    expect(codesOf(spreadOutOfScale([...peers, pounds]))).toEqual(
      codesOf(spreadOutOfScale([...peers, small])),
    );
  });
});

describe("sameRowTwice", () => {
  test("only rows equal in every field; the first one stays", () => {
    const rows = [
      rowOf({ line: 2 }),
      rowOf({ line: 3 }),
      rowOf({ line: 4, notes: "x" }),
      rowOf({ line: 5 }),
    ];
    expect([...sameRowTwice(rows)]).toEqual([
      [3, 2],
      [5, 2],
    ]);
    const angles = { trainingAngleDegrees: [30, 60] };
    expect([...sameRowTwice([rowOf(angles), rowOf({ ...angles, line: 9 })])]).toEqual([[9, 2]]);
  });
});

test("armIdsReused and sharedCohorts are notes, one for all arms and one a cohort", () => {
  const rows = [
    rowOf({ cohort: "C" }),
    rowOf({ study: "Pell 2020", cohort: "C" }),
    rowOf({ study: "Pell 2020", arm: "other" }),
  ];
  expect(armIdsReused(rows).map(({ code }) => code)).toEqual(["arm-ids-reused"]);
  expect(armIdsReused(rows)[0]?.message).toContain('"long holds" in 2 studies');
  expect(sharedCohorts(rows)[0]?.message).toContain("Ashdown 2019, Pell 2020");
  expect(armIdsReused(rows.slice(1))).toEqual([]);
  expect(sharedCohorts(rows.slice(1))).toEqual([]);
});
