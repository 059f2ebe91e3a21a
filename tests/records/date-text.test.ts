import { expect, test } from "vitest";
import { rangeBehindDate } from "../../src/records/date-text.js";

test("rangeBehindDate: the range a spreadsheet made a date of", () => {
  for (const text of [
    "03-Oct",
    "3-Oct",
    "Oct-03",
    "3. Okt",
    "03 October",
    "Oct-3-2024",
    "2024-10-03",
    "03/10/2024",
    "10/3/24",
    "2024-10-03T00:00:00Z",
    "03.10.2024",
  ]) {
    expect([text, rangeBehindDate(text)]).toEqual([text, "3–10"]);
  }
});

test("rangeBehindDate: what is no date is none", () => {
  for (const text of ["3-10", "70–85", "30 / 60 / 90", "12.5", "may", "octopus 3", "", "3 sets"]) {
    expect([text, rangeBehindDate(text)]).toEqual([text, undefined]);
  }
});
