/** What crosses between who asks and who helps: a message, and one reply to each. */
import { questionIdOf } from "./ask.js";
import type { Question } from "./question.js";
import { questionList } from "./question-list.js";
import { taskDone, type Helper, type Task } from "./shared-work.js";

/** First the task, which opens the file there, then piece after piece. */
export type HelpMessage = Readonly<{ task: Task }> | Readonly<{ piece: unknown }>;
/** What a piece comes to; why it cannot be done there is of no more use than that it cannot. */
export type HelpReply = Readonly<{ result: unknown }> | Readonly<{ failed: string }>;

/**
 * A helper that is reached by messages, which begins to open the file.
 *
 * @param ask sends a message; its replies come in the order in which it was asked
 */
export const helperBy = (task: Task, ask: (message: HelpMessage) => Promise<HelpReply>): Helper => {
  const told = async (message: HelpMessage): Promise<unknown> => {
    const reply = await ask(message);
    if ("failed" in reply) throw new Error(reply.failed);
    return reply.result;
  };
  return { ready: told({ task }), work: (piece) => told({ piece }) };
};

/** The other end: replies to the messages of one who asks, and keeps the file open between them. */
export const newHelp = (): ((message: HelpMessage) => Promise<HelpReply>) => {
  let done: ((piece: unknown) => unknown) | undefined;
  return async (message) => {
    try {
      if ("piece" in message) return { result: done?.(message.piece) };
      const asked = await questionList[questionIdOf(message.task.question)].load();
      done = taskDone(asked as unknown as Question, message.task);
      return { result: null };
    } catch (error) {
      return { failed: String(error) };
    }
  };
};
