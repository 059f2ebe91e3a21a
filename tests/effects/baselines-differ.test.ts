import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { EffectsOptions } from "../../src/effects/effects-options.js";
import { readRecords } from "../../src/records/read-records.js";
import { bothTimes, rowOf } from "./outcome-row.js";

const trained = (before: number) => rowOf({ line: 2, ...bothTimes([before, 12], [150, 12], 11) });
const control = rowOf({
  line: 3,
  arm: "control",
  armKind: "no exercise",
  ...bothTimes([130, 16], [131, 16], 11),
});
const said = (before: number, options: EffectsOptions = {}) =>
  effectsFromRows([trained(before), control], { contrast: "against-control", ...options })
    .effects.flatMap(({ notes }) => notes)
    .filter(({ code }) => code === "baselines-differ")
    .map(({ message }) => message);

// The pooled deviation is √((12² + 16²)/2) = √200 = 14.14, half of it 7.07.
test("hand arithmetic: a gap of 7 is not worth a note, one of 8 is 0.6 deviations", () => {
  expect(said(123)).toEqual([]);
  expect(said(137)).toEqual([]);
  expect(said(122)).toEqual([
    'line 2: before training arm "trained" stood at 122 and arm "control" at 130, 0.6 pooled standard deviations apart (more than 0.5), so part of the difference may come from who was in which arm',
  ]);
  expect(said(138)).toHaveLength(1);
});

test("the size is an option, and a change within an arm has no other baseline", () => {
  expect(said(122, { baselineGapNoted: 0.6 })).toEqual([]);
  expect(said(123, { baselineGapNoted: 0.4 })).toHaveLength(1);
  expect(said(60, { contrast: "change-within-arm" })).toEqual([]);
});

test("standard errors are turned into deviations first, and arms that print none are let be", () => {
  const { preSpread: _, ...bare } = control;
  expect(
    effectsFromRows([trained(60), { ...bare, changeSpread: 3, changeMean: 1 }], {
      contrast: "against-control",
    }).effects.flatMap(({ notes }) => notes.map(({ code }) => code)),
  ).not.toContain("baselines-differ");
  const errors = { spreadKind: "standard error" } as const;
  const rows = [
    { ...trained(122), ...errors },
    { ...control, ...errors },
  ];
  const { effects } = effectsFromRows(rows, { contrast: "against-control" });
  expect(effects[0]?.notes.map(({ code }) => code)).not.toContain("baselines-differ");
});

// Arampatzis 2007, Table 1: 114.4 ± 12.7 and 109.5 ± 15.2 (11 people) beside 135.0 ± 38.3 (10): 20.6/27.9 and 25.5/28.4.
test("the published legs of Arampatzis 2007 stood lower than their controls", () => {
  const file = new URL("../first-wave/published-outcomes.csv", import.meta.url);
  const { rows } = readRecords(readTable(readFileSync(file)));
  const { effects } = effectsFromRows(rows, { contrast: "against-control" });
  const told = effects
    .filter(({ row }) => row.outcome === "peak isometric torque")
    .flatMap(({ arm, notes }) =>
      notes
        .filter(({ code }) => code === "baselines-differ")
        .map(({ message }) => [arm, /, ([\d.]+) pooled/.exec(message)?.[1]]),
    );
  expect(told).toEqual([
    ["low strain leg", "0.7"],
    ["high strain leg", "0.9"],
  ]);
});
