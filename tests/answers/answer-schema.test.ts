/** Every question's answer, refusals included, is plain data of the form that shared/answer.schema.json publishes. */
import Ajv from "ajv";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import * as z from "zod";
import { answerSchema, answerVersion, type Answer } from "../../src/answers/answer.js";
import { ask } from "../../src/answers/ask.js";
import type { Evidence } from "../../src/answers/evidence.js";
import type { Question } from "../../src/answers/question.js";
import { questionIds, questionList, type QuestionId } from "../../src/answers/question-list.js";
import {
  firstWave,
  historicEvidence,
  shippedEvidence,
  shippedText,
} from "./evidence-under-test.js";
import { expectPlain, longHolds, shortHolds } from "./last-yard.js";

const schemaUrl = new URL("../../shared/answer.schema.json", import.meta.url);

type JsonSchema = Readonly<Record<string, unknown>>;

/** Zod's own print of a form; an answer may grow fields, so none is forbidden that is not named. */
const printed = (form: z.ZodType): JsonSchema => {
  const { $schema: _said, ...schema } = z.toJSONSchema(form, { target: "draft-7", io: "input" });
  return schema;
};

/**
 * The published schema: the data of each question under its name, told apart by `question.id`; what all of them
 * carry, under `data`; and the answer around them.
 */
const publishedSchema = async (): Promise<JsonSchema> => {
  const definitions: Record<string, JsonSchema> = {};
  for (const id of questionIds) {
    const { data } = (await questionList[id].load()) as unknown as Question;
    definitions[id] = {
      description: `Data of an answer to ${id}: ${questionList[id].asks}.`,
      allOf: [
        { $ref: "#/definitions/data" },
        printed(z.object({ question: z.object({ id: z.literal(id) }), ...data })),
      ],
    };
  }
  const whole = answerSchema({});
  const anyData = { oneOf: questionIds.map((id) => ({ $ref: `#/definitions/${id}` })) };
  const { properties, ...answer } = printed(whole);
  return {
    $schema: "http://json-schema.org/draft-07/schema#",
    $id: `holdbook-answer-${answerVersion}.json`,
    title: "Answers of Holdbook",
    description: `Version ${answerVersion} of the data that an answer carries and --json prints. A file may hold fields that are not named here.`,
    ...anyData,
    definitions: {
      answer: {
        description:
          "What every question gives: words, tables, figures still to be drawn, doubts, and data.",
        ...answer,
        properties: { ...(properties as JsonSchema), data: anyData },
      },
      data: { description: "What the data of every answer carry.", ...printed(whole.shape.data) },
      ...definitions,
    },
  };
};

test("the shared schema is the one the questions make", async () => {
  // Written anew by: npx vitest run --config .vitest.config.ts tests/answers/answer-schema.test.ts -u
  await expect(`${JSON.stringify(await publishedSchema(), null, 2)}\n`).toMatchFileSnapshot(
    fileURLToPath(schemaUrl),
  );
});

describe("every answer has the published form and survives a worker and a file", () => {
  const published = new Ajv().addSchema(
    JSON.parse(readFileSync(schemaUrl, "utf8")) as JsonSchema,
    "answer",
  );
  /** What the schema holds against an answer; nothing where it has the form. */
  const problems = (answer: unknown, definition = "answer"): readonly string[] => {
    const valid = published.validate(`answer#/definitions/${definition}`, answer);
    return valid === true
      ? []
      : (published.errors ?? []).map(({ dataPath, message = "" }) => `${dataPath} ${message}`);
  };
  const asked: Partial<Record<QuestionId, Readonly<Record<string, unknown>>>> = {
    dose: { on: "holdSeconds" },
    sweep: { most: 4 },
    project: { protocol: longHolds },
    compare: { protocol: [longHolds, shortHolds] },
    explore: { minutes: 20, sessions: 3, intensityUpTo: 90 },
    follow: { protocol: longHolds, log: shippedText("example-client-log.csv") },
    // As few futures as it takes.
    settle: { simulations: 20 },
  };
  const plainAnswer = async (
    id: QuestionId,
    options: Readonly<Record<string, unknown>>,
    evidence?: Evidence,
  ): Promise<Answer> => {
    const answer = (await ask(id, options, evidence)) as Answer;
    expectPlain(answer, await questionList[id].load());
    expect(problems(answer.data, id)).toEqual([]);
    expect(problems(answer)).toEqual([]);
    return answer;
  };
  const ofFiles = questionIds.filter((id) => questionList[id].needs === "file");
  const files = {
    "the demonstration": shippedEvidence("demo-register.csv"),
    "published outcomes": shippedEvidence(firstWave),
    "the historic trials": historicEvidence(),
  };

  describe.each(Object.keys(files) as (keyof typeof files)[])("%s", (name) => {
    test.each(ofFiles)("%s", async (id) => {
      const { data } = await plainAnswer(
        id,
        // A file beside itself: what moves is the matter of a test of its own.
        id === "changes" ? { older: files[name] } : { ...asked[id] },
        files[name],
      );
      expect(data.question.id).toBe(id);
    });
  });

  // Single trials are told whatever the contrast, and never for want of a second study; the brief takes the other
  // contrast, isometric or dynamic and each statement have one of their own, changes are told of all, and a client's
  // change is told without a projection.
  const neverPooled: readonly QuestionId[] = [
    ...(["check", "brief", "studies", "effects", "made", "single-trials"] as const),
    "isometric-or-dynamic",
    ...(["statements", "changes", "follow", "settle"] as const),
  ];
  test.each(ofFiles.filter((id) => !neverPooled.includes(id)))(
    "%s, refused for a single study against no exercise",
    async (id) => {
      const options = { ...asked[id], contrast: "against-control" };
      const { data, headline } = await plainAnswer(id, options, files["published outcomes"]);
      expect(data.refusal).not.toBeNull();
      expect(headline).not.toBe("");
    },
  );

  test("questions without a file, answered and refused", async () => {
    const lasting = "4 x 20 s at 70%, rest 60 s, 3/week";
    const short = "4 x 20 s at 70%";
    expect((await plainAnswer("hold", { protocol: lasting })).data.refusal).toBeNull();
    expect((await plainAnswer("hold", { protocol: "4 x 30 s" })).data.refusal).not.toBeNull();
    const ramp = { from: "deconditioned", weeks: 8 };
    expect((await plainAnswer("ramp", { ...ramp, protocol: lasting })).data.refusal).toBeNull();
    expect((await plainAnswer("ramp", { ...ramp, protocol: short })).data.refusal).not.toBeNull();
  });

  test("ready effects, as one group and by a column", async () => {
    const ready = shippedEvidence("ready-effects-example.csv");
    await plainAnswer("pool", {}, ready);
    await plainAnswer("pool", { by: "weeks" }, ready);
  });

  test("a number that turned to text, a lost interval or another question is noticed", async () => {
    const { data } = await plainAnswer(
      "pool",
      { outcome: "strength" },
      files["published outcomes"],
    );
    expect(problems({ ...data, estimate: "0.2" }, "pool")).not.toEqual([]);
    expect(problems({ ...data, interval: { low: 0.1 } }, "pool")).not.toEqual([]);
    const { confidence: _lost, ...without } = data;
    expect(problems(without, "pool")).not.toEqual([]);
    expect(problems(data, "dose")).not.toEqual([]);
  });
});
