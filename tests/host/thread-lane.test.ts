import { afterAll, expect, test } from "vitest";
import { laneInThread } from "../../src/host/thread-lane.js";

/** A thread in which the first job takes longest. */
const slowFirst = `const { parentPort } = require("node:worker_threads");
parentPort.on("message", (job) => setTimeout(() => parentPort.postMessage(job * job), 60 / job));`;
const lane = laneInThread<number, number>(slowFirst, { eval: true });
afterAll(lane.close);

test("jobs sent at once are done one after the other, each with its own reply", async () => {
  expect(await Promise.all([1, 2, 3].map(lane.ask))).toEqual([1, 4, 9]);
});

test("a thread that breaks says so to whoever waits, and to whoever asks after", async () => {
  const broken = laneInThread<number, number>("throw new Error('broken')", { eval: true });
  await expect(broken.ask(1)).rejects.toThrow("broken");
  await expect(broken.ask(2)).rejects.toThrow("broken");
});
