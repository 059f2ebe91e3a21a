import { existsSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import type { Figure } from "../figures/figure.js";
import { drawFigure, type DrawnFigure } from "./draw-figure.js";
import { systemCode } from "./file-problem.js";
import { freeAllMemory } from "./free-memory.js";
import { laneInThread, type Lane } from "./thread-lane.js";

/** A figure, and the files its drawing and its picture go to. */
export type DrawingJob = Readonly<{ figure: Figure; svg: string; png: string }>;

type Draw = (figure: Figure) => Promise<DrawnFigure>;

export type DrawToFilesOptions = Readonly<{
  /** Threads that draw at once. */
  threads?: number;
  /** Draws here instead, one after another. */
  draw?: Draw | undefined;
}>;

export const drawToFilesDefaults = { threads: 2 } as const;

/**
 * What kept a figure from being drawn, if anything did; its two files are written otherwise.
 *
 * @throws a problem of the disk, since it concerns the figures after this one too
 */
export const drawJob = async (
  { figure, svg, png }: DrawingJob,
  draw: Draw,
): Promise<string | undefined> => {
  try {
    const drawn = await draw(figure);
    await writeFile(svg, drawn.svg);
    await writeFile(png, drawn.png);
    return undefined;
  } catch (error) {
    if (systemCode(error) !== undefined) throw error;
    return error instanceof Error ? error.message : String(error);
  }
};

/** Beside the bundle's pieces; run from its source, the program has no such file and draws in its own thread. */
const threadFile = fileURLToPath(new URL("../host/drawing-thread.js", import.meta.url));

/**
 * Draws figures and writes each before the next is begun, a few at a time in threads of their own.
 *
 * @param jobs taken one by one, so that a figure need not exist before its turn
 * @param each called when a figure is written, or with what kept it from being drawn
 * @throws where the disk does not take a file
 */
export const drawToFiles = async (
  jobs: AsyncIterator<DrawingJob, unknown>,
  each: (job: DrawingJob, problem: string | undefined) => void,
  { threads = drawToFilesDefaults.threads, draw }: DrawToFilesOptions = {},
): Promise<void> => {
  // What the analysis left behind makes room for the threads.
  freeAllMemory();
  const here: Lane<DrawingJob, string | undefined> = {
    ask: (job) => drawJob(job, draw ?? drawFigure),
    close: () => Promise.resolve(),
  };
  const turn = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  const lanes =
    draw === undefined && existsSync(threadFile)
      ? Array.from({ length: threads }, () =>
          laneInThread<DrawingJob, string | undefined>(threadFile, {
            workerData: turn,
            resourceLimits: { maxYoungGenerationSizeMb: 8 },
          }),
        )
      : [here];
  try {
    await Promise.all(
      lanes.map(async (lane) => {
        for (let next = await jobs.next(); next.done !== true; next = await jobs.next())
          each(next.value, await lane.ask(next.value));
      }),
    );
  } finally {
    await Promise.all(lanes.map(({ close }) => close()));
  }
};
