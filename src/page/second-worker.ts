import { helperBy, newHelp, type HelpMessage, type HelpReply } from "../answers/help-messages.js";
import type { Help, Task } from "../answers/shared-work.js";

/** Asks through a port: replies come in the order of the messages. */
const askThrough = (port: MessagePort): ((message: HelpMessage) => Promise<HelpReply>) => {
  const waiting: ((reply: HelpReply) => void)[] = [];
  port.addEventListener("message", ({ data }: MessageEvent<HelpReply>) => waiting.shift()?.(data));
  port.start();
  return (message) =>
    new Promise((resolve) => {
      waiting.push(resolve);
      port.postMessage(message);
    });
};

/** A turn in which messages are heard; a timer would hold the work up. */
const turn = (): Promise<void> =>
  new Promise((resume) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resume();
    };
    port2.postMessage(null);
  });

/**
 * Help from a second worker, which only the page can make.
 *
 * @param want asks the page to begin one and to hand it this port; where none can be had nobody answers, and the work is
 *   done without
 * @param letGo tells the page that it is not needed any more
 */
export const helpFromPage = (want: (port: MessagePort) => void, letGo: () => void): Help => {
  let port: MessagePort | undefined;
  return {
    begin: (task: Task) => {
      const { port1, port2 } = new MessageChannel();
      port = port1;
      want(port2);
      return [helperBy(task, askThrough(port1))];
    },
    pause: turn,
    end: () => {
      port?.close();
      letGo();
    },
  };
};

/** Helps whoever asks through a port, message after message. */
export const helpThrough = (port: MessagePort): void => {
  const help = newHelp();
  let last: Promise<void> = Promise.resolve();
  port.addEventListener("message", ({ data }: MessageEvent<HelpMessage>) => {
    last = last.then(() => help(data)).then((reply) => port.postMessage(reply));
  });
  port.start();
};
