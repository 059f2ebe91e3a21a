import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import type { Question } from "../../src/answers/question.js";
import { questionList, type QuestionId } from "../../src/answers/question-list.js";
import { sharedOut, taskDone, type Help, type Helper } from "../../src/answers/shared-work.js";
import { evidenceOf, shippedEvidence, shippedText } from "./evidence-under-test.js";

const turn = (): Promise<void> => new Promise((resume) => setTimeout(resume, 0));

/** What one helper was given to do. */
type Seen = { pieces: unknown[] };

/** Helpers in this thread, to whom everything crosses as it does to another: copied, and functions refused. */
const helpOf = (hands: number, asked: Question): Help & Readonly<{ seen: readonly Seen[] }> => {
  const seen = Array.from({ length: hands }, (): Seen => ({ pieces: [] }));
  return {
    seen,
    begin: (task) =>
      seen.map(({ pieces }): Helper => {
        const done = taskDone(asked, structuredClone(task));
        return {
          ready: turn(),
          work: async (piece) => {
            pieces.push(piece);
            await turn();
            return structuredClone(done(structuredClone(piece)));
          },
        };
      }),
    pause: turn,
    end: () => undefined,
  };
};

const library = () => evidenceOf(shippedText("published-outcomes.csv"), "published-outcomes.csv");

/** Asked of a file that is opened anew, so that nothing made before is there; once alone, then with so many helpers. */
const withHelpers = async (id: QuestionId, options: object, hands: readonly number[]) => {
  const asked = (await questionList[id].load()) as unknown as Question;
  const answer = await ask(id, options, library());
  const alone = JSON.stringify(answer);
  let last = "";
  for (const count of hands) {
    const lines: string[] = [];
    const help = helpOf(count, asked);
    const shared = await ask(id, options, library(), (line) => lines.push(line), help);
    expect(JSON.stringify(shared)).toBe(alone);
    expect(help.seen.map(({ pieces }) => pieces.length > 0)).toEqual(
      Array.from({ length: count }, () => true),
    );
    last = lines.at(-1)!;
    expect(last).toMatch(/^(.*: )?(\d+) of \2 /);
  }
  return { data: answer.data as unknown, last };
};

describe("whoever helps, the answer is the same to the last digit", () => {
  test("every way of an average", async () => {
    const { last } = await withHelpers("sweep", { outcome: "strength", most: 110 }, [1, 3]);
    expect(last).toBe("strength: 110 of 110 ways");
  });

  test("of every kind of outcome at once, which are counted together", async () => {
    const { data, last } = await withHelpers("sweep", { most: 25 }, [1]);
    const { groups } = data as { groups: readonly { all?: { ways: number } }[] };
    const ways = groups.reduce((sum, { all }) => sum + (all?.ways ?? 0), 0);
    expect(last).toBe(`${ways} of ${ways} ways`);
  });

  test("statements under other choices", async () => {
    const { last } = await withHelpers("statements", { sweep: true }, [2]);
    expect(last).toMatch(/^other choices: (\d+) of \1 statements$/);
  });

  test("verdicts on variables, whose extremes wait for the single choices", async () => {
    const { last } = await withHelpers("sweep", { verdicts: true }, [2]);
    expect(last).toMatch(/^verdicts: (\d+) of \1 ways$/);
  });
});

test("few ways are not handed out", async () => {
  const asked = (await questionList.sweep.load()) as unknown as Question;
  const help = helpOf(2, asked);
  await ask(
    "sweep",
    { outcome: "tendon", most: 99 },
    shippedEvidence("published-outcomes.csv"),
    undefined,
    help,
  );
  expect(help.seen.flatMap(({ pieces }) => pieces)).toEqual([]);
});

describe("pieces dealt out", () => {
  const pieces = Array.from({ length: 23 }, (_, index) => index);
  const squares = new Map(pieces.map((piece) => [piece, piece ** 2]));
  const square = (piece: unknown) => Number(piece) ** 2;
  const shared = async (helpers: readonly Helper[]) => {
    const kept: (readonly [number, unknown])[] = [];
    const here: number[] = [];
    await sharedOut(
      pieces,
      (piece) => {
        here.push(piece);
        return square(piece);
      },
      (piece, result) => kept.push([piece, result]),
      helpers,
      turn,
    );
    return { kept, here };
  };
  const refused = Promise.reject(new Error("refused"));
  refused.catch(() => undefined);
  const good: Helper = { ready: turn(), work: (piece) => turn().then(() => square(piece)) };

  test("each is kept once, and each hand does neighbours", async () => {
    const { kept, here } = await shared([good, good]);
    expect(kept.length).toBe(23);
    expect(new Map(kept)).toEqual(squares);
    // A third of them is whose turn it is by right.
    expect(here.slice(0, 3)).toEqual([0, 1, 2]);
    expect(here.length).toBeLessThan(23);
  });

  test.each([
    ["one that never gets ready", { ready: new Promise(() => undefined), work: square }],
    ["one that cannot be begun", { ready: refused, work: square }],
    ["one that goes silent", { ready: turn(), work: () => new Promise(() => undefined) }],
    ["one that fails", { ready: turn(), work: () => Promise.reject(new Error("lost")) }],
  ])("%s costs no piece", async (_, lame) => {
    const { kept } = await shared([lame as Helper, good]);
    expect(kept.length).toBe(23);
    expect(new Map(kept)).toEqual(squares);
  });

  test("what is thrown here ends the work", async () => {
    await expect(
      sharedOut(
        pieces,
        () => {
          throw new Error("seven");
        },
        () => undefined,
        [],
        turn,
      ),
    ).rejects.toThrow("seven");
  });
});
