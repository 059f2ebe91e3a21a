/** A thread that helps with long work: it opens the file of a task once, and does the pieces it is given. */
import { parentPort } from "node:worker_threads";
import { newHelp, type HelpMessage } from "../answers/help-messages.js";

const help = newHelp();
parentPort?.on("message", (message: HelpMessage) => {
  void help(message).then((reply) => parentPort?.postMessage(reply));
});
