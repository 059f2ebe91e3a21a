import type { Page } from "playwright-core";

/** The longest task of a page's main thread during some work, in milliseconds. */
export type LongestTask = Readonly<{
  /** Time the task kept the processor: what the page costs, whatever else the machine does. */
  processor: number;
  /** Time on the clock, with every pause the machine made for others. */
  clock: number;
}>;

type TraceEvent = Readonly<{
  pid: number;
  tid: number;
  name: string;
  ph: string;
  dur?: number;
  tdur?: number;
  args?: Readonly<{ name?: string }>;
}>;

/** Does something and gives the longest main-thread task meanwhile, as the browser's own trace has it. */
export const longestTaskDuring = async (
  page: Page,
  act: () => Promise<unknown>,
): Promise<LongestTask> => {
  const browser = page.context().browser();
  if (browser === null) throw new Error("a trace requires a page of a browser");
  await browser.startTracing(page, { categories: ["toplevel"] });
  await act();
  const trace = JSON.parse((await browser.stopTracing()).toString("utf8")) as Readonly<{
    traceEvents: readonly TraceEvent[];
  }>;
  const threadOf = ({ pid, tid }: TraceEvent): string => `${pid} ${tid}`;
  const pages = new Set(
    trace.traceEvents
      .filter(({ name, args }) => name === "thread_name" && args?.name === "CrRendererMain")
      .map(threadOf),
  );
  const tasks = trace.traceEvents.filter(
    (event) => pages.has(threadOf(event)) && event.ph === "X" && event.name.endsWith("RunTask"),
  );
  if (tasks.length === 0) throw new Error("the trace has no main-thread task");
  const longest = (times: readonly number[]): number => Math.max(0, ...times) / 1000;
  return {
    processor: longest(tasks.map(({ tdur = 0 }) => tdur)),
    clock: longest(tasks.map(({ dur = 0 }) => dur)),
  };
};
