/** A thread that draws: one figure in, two files out, so that no drawing waits in memory to be written. */
import { parentPort } from "node:worker_threads";
import { drawFigure } from "./draw-figure.js";
import { drawJob, type DrawingJob } from "./draw-to-files.js";
import { freeMemory } from "./free-memory.js";

/** Bytes of points that may wait to be given back. */
const mostBytes = 32e6;
let uncounted = 0;

parentPort?.on("message", (job: DrawingJob) => {
  const draw = async (figure: DrawingJob["figure"]) => {
    const drawn = await drawFigure(figure);
    const { buffer, byteOffset } = drawn.png;
    const header = new DataView(buffer, byteOffset);
    uncounted += 4 * header.getUint32(16) * header.getUint32(20);
    return drawn;
  };
  void drawJob(job, draw).then((problem) => {
    if (uncounted > mostBytes) {
      freeMemory();
      uncounted = 0;
    }
    parentPort?.postMessage(problem);
  });
});
