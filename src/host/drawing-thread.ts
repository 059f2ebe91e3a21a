/** A thread that draws: one figure in, two files out, so that no drawing waits in memory to be written. */
import { parentPort, workerData } from "node:worker_threads";
import type { Figure } from "../figures/figure.js";
import { pngScale, pointBytes, drawPng, drawSvg, type DrawnFigure } from "./draw-figure.js";
import { drawJob, type DrawingJob } from "./draw-to-files.js";
import { freeMemory } from "./free-memory.js";

/** Bytes of points that may wait to be given back. */
const mostBytes = 4e6;
/** Bytes from which a picture is made while no other is. */
const largeBytes = 16e6;
let uncounted = 0;

/** What all threads share: 1 while one of them makes a large picture. */
const turn = workerData as Int32Array;

const draw = async (figure: Figure): Promise<DrawnFigure> => {
  const svg = await drawSvg(figure);
  const scale = pngScale(figure, svg);
  const bytes = pointBytes(svg, scale);
  const isLarge = bytes > largeBytes;
  while (isLarge && Atomics.compareExchange(turn, 0, 0, 1) !== 0) Atomics.wait(turn, 0, 1);
  try {
    if (isLarge) freeMemory();
    const png = await drawPng(svg, scale);
    uncounted += bytes;
    if (uncounted > mostBytes) {
      freeMemory();
      uncounted = 0;
    }
    return { svg, png };
  } finally {
    if (isLarge) {
      Atomics.store(turn, 0, 0);
      Atomics.notify(turn, 0);
    }
  }
};

parentPort?.on("message", (job: DrawingJob) => {
  void drawJob(job, draw).then((problem) => parentPort?.postMessage(problem));
});
