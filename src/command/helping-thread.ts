/** A thread that helps with long work: it opens the file of a task once, and does the pieces it is given. */
import { parentPort } from "node:worker_threads";
import type { Question } from "../answers/question.js";
import { questionIdOf } from "../answers/ask.js";
import { questionList } from "../answers/question-list.js";
import { taskDone } from "../answers/shared-work.js";
import type { HelpMessage, HelpReply } from "./helping-threads.js";

let done: ((piece: unknown) => unknown) | undefined;

const replyTo = async (message: HelpMessage): Promise<HelpReply> => {
  try {
    if ("piece" in message) return { result: done?.(message.piece) };
    const asked = await questionList[questionIdOf(message.task.question)].load();
    done = taskDone(asked as unknown as Question, message.task);
    return { result: null };
  } catch (error) {
    return { failed: String(error) };
  }
};

parentPort?.on("message", (message: HelpMessage) => {
  void replyTo(message).then((reply) => parentPort?.postMessage(reply));
});
