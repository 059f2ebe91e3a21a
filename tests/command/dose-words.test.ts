import { expect, test } from "vitest";
import {
  axesOption,
  interactionsOption,
  numbersOption,
  shapesOption,
} from "../../src/command/dose-words.js";
import { doseAxes, doseAxisNames } from "../../src/dose/dose-axes.js";
import { shapeNames } from "../../src/dose/shapes/shape.js";

test("a dose is known by its name, with hyphens, as a column, and by its label", () => {
  for (const name of doseAxisNames) {
    const kebab = name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
    for (const word of [name, kebab, kebab.replaceAll("-", "_"), doseAxes[name].label])
      expect(axesOption(word)).toEqual([name]);
  }
  expect(axesOption("intensity, hold_seconds,hold-seconds")).toEqual([
    "intensityPercent",
    "holdSeconds",
  ]);
});

test("a wrong word is told the nearest", () => {
  expect(() => axesOption("hold-secnds")).toThrow(/got "hold-secnds".*did you mean hold-seconds/);
  expect(() => axesOption("colour")).toThrow(/names among intensity-percent, hold-seconds/);
  expect(() => axesOption(" , ")).toThrow(/at least one of/);
  expect(() => shapesOption("staight-line")).toThrow(/did you mean straight-line/);
});

test("shapes by name, or all of them", () => {
  expect(shapesOption("straight-line,restricted_cubic_spline, peak")).toEqual([
    "straight line",
    "restricted cubic spline",
    "peak",
  ]);
  expect(shapesOption("all")).toEqual(shapeNames);
});

test("products of two doses", () => {
  const pair = ["intensityPercent", "holdSeconds"];
  expect(interactionsOption("intensity by hold")).toEqual([pair]);
  expect(interactionsOption("intensity_percent × hold-seconds, weeks by sets")).toEqual([
    pair,
    ["weeks", "sets"],
  ]);
  expect(() => interactionsOption("intensity")).toThrow(/pairs such as intensity by hold/);
  expect(() => interactionsOption("intensity by hold by weeks")).toThrow(/pairs such as/);
});

test("numbers, with decimal commas where semicolons separate", () => {
  expect(numbersOption("--at")("5, 10.5,-3")).toEqual([5, 10.5, -3]);
  expect(numbersOption("--at")("2,5; 10")).toEqual([2.5, 10]);
  expect(() => numbersOption("--at")("5,,6")).toThrow(/--at requires numbers/);
  expect(() => numbersOption("--knots")("five")).toThrow(/got "five"/);
});
