import { zodIsWithoutEval } from "./zod-without-eval.js";
import { startPage } from "./start-page.js";
import { playWorker } from "./worker-role.js";

// One program, two roles: in the page it shows, and in a worker made from its own text it computes.
if (zodIsWithoutEval) {
  if (typeof document === "undefined") playWorker(self);
  else startPage(document);
}
