/** Kind of evidence: readings written by hand; what every door prints of a profile, and where it never stands. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { recipeInCard } from "../../src/answers/answer-card.js";
import { ask } from "../../src/answers/ask.js";
import { readAs } from "../../src/answers/option.js";
import { readProfile } from "../../src/answers/profile.js";
import { runHere } from "../command/run-here.js";
import { fileOf, testFolder } from "../command/test-folder.js";
import { tableText } from "../records/record-table.js";

const read = (given: unknown): unknown => readAs("--profile", () => readProfile(given));

describe("what is read", () => {
  test.each<readonly [unknown, unknown]>([
    [
      "62 years, knee, knee surgery 10 weeks ago, treated high blood pressure",
      {
        ageYears: 62,
        joint: "knee",
        surgery: { site: "knee", weeksAgo: 10 },
        bloodPressure: "high, treated",
      },
    ],
    [
      "age=62; joint=quads; surgery=knee 10 weeks ago; bp=150/95; pregnancy=no",
      {
        ageYears: 62,
        joint: "knee",
        surgery: { site: "knee", weeksAgo: 10 },
        bloodPressure: { systolic: 150, diastolic: 95 },
        pregnancy: "none",
      },
    ],
    [
      { age: 34, bloodPressure: "usual", surgery: "none" },
      { ageYears: 34, bloodPressure: "usual", surgery: "none" },
    ],
    ["34-year-old", { ageYears: 34 }],
    ["aged 34", { ageYears: 34 }],
    ["left shoulder", { joint: "shoulder" }],
    ["surgery, 3 weeks ago", { surgery: { weeksAgo: 3 } }],
    ["ACL reconstruction a year ago", { surgery: { site: "knee", weeksAgo: 52 } }],
    ["rotator cuff repair six months ago", { surgery: { site: "shoulder", weeksAgo: 26 } }],
    ["cataract surgery yesterday", { surgery: { site: "eye", weeksAgo: 0 } }],
    ["no surgery, not pregnant", { surgery: "none", pregnancy: "none" }],
    [
      "caesarean 8 weeks ago",
      { surgery: { site: "belly", weeksAgo: 8 }, pregnancy: "after birth" },
    ],
    ["20 weeks pregnant", { pregnancy: "pregnant" }],
    ["gave birth 8 weeks ago", { pregnancy: "after birth" }],
    ["high blood pressure, not treated", { bloodPressure: "high, not treated" }],
    ["hypertension", { bloodPressure: "high" }],
    ["blood pressure 165 over 102", { bloodPressure: { systolic: 165, diastolic: 102 } }],
  ])("%j", (given, profile) => {
    expect(read(given)).toEqual(profile);
  });
});

describe("what is not understood is named, with the mend", () => {
  test.each<readonly [unknown, RegExp]>([
    ["healthy", /got "healthy"; for example 62 years/],
    ["62", /got "62"; did you mean 62 years\?/],
    ["162 years", /an age from 0 to 120 years/],
    ["preganant", /did you mean pregnant\?/],
    ["knee surgery in 2019", /not understood: 2019.*write "knee surgery 10 weeks ago"/],
    ["knee surgery not healed", /not understood: not/],
    ["blood pressure 120", /in mmHg, got "blood pressure 120"; write treated high/],
    ["80/120", /the higher number first/],
    ["62 years, 45 years", /each thing said once, got "45 years"/],
    ["agee=4", /did you mean age\?/],
    ["treated", /got "treated"/],
    ["", /an age, a joint, surgery and when/],
    [[1], /an age, a joint, surgery and when/],
  ])("%j", (given, words) => {
    expect(() => read(given)).toThrow(words);
  });
});

const session = "4 x 20 s at 95%, rest 60 s, long, knee";
const said = "72 years, knee surgery 10 weeks ago, 185/95";
const file = fileOf(
  "ages.csv",
  tableText(
    ["Ashdown 2019", "Brook 2020", "Carse 2021", "Dunmore 2022"].map((study, index) => ({
      study,
      outcome: "peak isometric torque",
      outcomeFamily: "strength",
      preMean: String(180 + 3 * index),
      ageMeanYears: String(21 + 3 * index),
    })),
  ),
);

describe("at the last yard", () => {
  const flat = (text: string): string => text.replace(/\s+/g, " ");
  const commands: readonly (readonly [string, readonly string[]])[] = [
    ["hold", ["hold", session]],
    ["ramp", ["ramp", session, "--from", "trained", "--weeks", "8"]],
    ["project", ["project", file, session]],
    ["compare", ["compare", file, session, "4 x 20 s at 50%, rest 60 s, middle, knee"]],
    ["explore", ["explore", file, "--minutes", "20", "--sessions", "3", "--intensity-up-to", "80"]],
  ];
  test.each(commands)("%s: text and JSON", async (id, words) => {
    const { out, err } = await runHere(...words, "--profile", said);
    expect(err).toBe("");
    const text = flat(out);
    const places = [
      "! OUTSIDE THE AGES STUDIED: you said 72 years",
      "! Said of the person: 72 years; knee surgery 10 weeks ago; blood pressure 185/95 mmHg. It puts first what applies and clears nobody.",
      "! Stop at once and seek help. Signs: chest pain",
      "! Conditions that rule training out until a clinician has decided.",
      "Here: you said blood pressure 185/95 mmHg",
      "! Recent surgery.",
      "! Ask a clinician first.",
      "! --cautions says",
    ].map((piece) => text.indexOf(piece));
    expect(places).not.toContain(-1);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    const ofFile = text.includes(
      "the groups that trained in the file had mean ages of 21 to 30 years",
    );
    expect(ofFile).toBe(!["hold", "ramp"].includes(id));
    const { out: json } = await runHere(...words, "--profile", said, "--json");
    const data = JSON.parse(json) as {
      question: { options: object };
      cautions: { profile: { first: readonly { id: string }[]; outsideAges: string } };
    };
    expect(data.cautions.profile.first.map((one) => one.id).slice(0, 2)).toEqual([
      "heart-and-vessels-absolute",
      "recent-surgery",
    ]);
    expect(data.cautions.profile.outsideAges).toContain("72");
    // The question as it was asked is what recipes and cards are made of.
    expect(data.question.options).not.toHaveProperty("profile");
  });

  test("--cautions adds every other caution; a folder and the sheet hold them too", async () => {
    const plain = await runHere("hold", session, "--profile", said, "--cautions");
    expect(plain.out).toContain("Eyes: retina");
    const answer = await ask("ramp", {
      protocol: session,
      from: "trained",
      weeks: 8,
      profile: said,
    });
    const html = answer.sheets[0]!.html;
    expect(html.indexOf("Outside the ages studied")).toBeLessThan(html.indexOf("Eyes: retina"));
    expect(html).not.toContain("<details");
  });

  test("it stands in no recipe and no card; the card is the same with and without it", async () => {
    const folder = join(testFolder, "with-profile");
    const card = join(testFolder, "with-profile.svg");
    const bare = join(testFolder, "without-profile.svg");
    await runHere("hold", session, "--profile", said, "--card", card, "-o", folder);
    await runHere("hold", session, "--card", bare);
    expect(readFileSync(card, "utf8")).toBe(readFileSync(bare, "utf8"));
    expect(recipeInCard(readFileSync(card, "utf8"))).not.toMatch(/72|185\/95|surgery 10/);
    const recipe = readFileSync(join(folder, "figures/hold-strip.recipe.json"), "utf8");
    expect(recipe).not.toMatch(/profile|72 years|185\/95|surgery/);
    expect(readFileSync(join(folder, "cautions.md"), "utf8")).toContain("Outside the ages studied");
    const { exitCode } = await runHere("verify", card);
    expect(exitCode).toBe(0);
  });
});
