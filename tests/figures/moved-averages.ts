/** Averages that moved, as the library gave them when its second wave came, rounded; and twice as many, so that a slide folds some. */
import type { NamedFigure } from "../../src/figures/figure-list.js";

const rows = [
  {
    about: "Strength, before to after",
    before: { estimate: 21.6, low: 15.5, high: 28.1, studies: 10 },
    now: { estimate: 22.4, low: 18.7, high: 26.2, studies: 24 },
    isOther: false,
    by: "Fimland 2009",
  },
  {
    about: "Strength, tested moving at fixed speed, before to after",
    before: { estimate: 8.4, low: -10.0, high: 30.6, studies: 2 },
    now: { estimate: 11.5, low: -2.5, high: 27.6, studies: 3 },
    isOther: false,
    by: "Portero 2001",
  },
  {
    about: "Size, before to after",
    before: { estimate: 5.5, low: 3.2, high: 7.9, studies: 5 },
    now: { estimate: 8.7, low: 0.9, high: 17.2, studies: 7 },
    isOther: false,
    by: "Alway 1990",
  },
  {
    about: "Tendon, before to after",
    before: { estimate: 33.7, low: -73.4, high: 570.9, studies: 2 },
    now: { estimate: 23.8, low: 9.5, high: 40.0, studies: 5 },
    isOther: true,
    by: "Kubo 2006",
  },
  {
    about: "Rapid force, before to after",
    before: { estimate: 25.0, low: -54.0, high: 239.6, studies: 2 },
    now: { estimate: 21.7, low: 6.5, high: 39.2, studies: 4 },
    isOther: true,
    by: "Oliveira 2013",
  },
  {
    about: "Blood pressure, before to after",
    before: null,
    now: { estimate: 6.4, low: 3.7, high: 9.0, studies: 3 },
    isOther: true,
    by: "",
  },
  {
    about: "Strength, against no exercise",
    before: null,
    now: { estimate: 13.7, low: 4.5, high: 23.6, studies: 3 },
    isOther: true,
    by: "Herbert 1998",
  },
  {
    about: "Strength, against the person's other limb",
    before: null,
    now: { estimate: 5.6, low: -1.9, high: 13.7, studies: 4 },
    isOther: true,
    by: "",
  },
] as const;

/** Of the library these; of the demonstration as many again, which were not there before. */
export const movedAverages = (file: string): NamedFigure => ({
  name: "changes",
  data: {
    id: "changes",
    unit: "%",
    sign: "%",
    confidence: 0.95,
    source: `${file}, 0000 0000`,
    rows:
      file === "published-outcomes.csv"
        ? rows
        : [...rows, ...rows.map((row) => ({ ...row, about: `${row.about}, again`, before: null }))],
  },
});
