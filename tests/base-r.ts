/** Base R as the referee of a test file: one for all files that a worker runs, cleared between them. */
import { WebR } from "webr";
import { beforeAll } from "vitest";

/** R as a test file has it. */
export type BaseR = Readonly<{
  /** Runs statements; what they define stays for this file. */
  run: (code: string) => Promise<void>;
  /** The numbers that an expression gives. */
  numbers: (code: string) => Promise<readonly number[]>;
}>;

let started: Promise<WebR> | undefined;

const start = async (): Promise<WebR> => {
  const webR = new WebR({ interactive: false });
  await webR.init();
  return webR;
};

/**
 * R for the tests of the calling file. Starting R takes seconds, so it is started once and an empty
 * workspace (names, random numbers, attached things) is what makes it the file's own.
 *
 * @param routines statements run before the file's tests
 */
export const baseR = (routines = ""): BaseR => {
  const ready = (): Promise<WebR> => (started ??= start());
  beforeAll(async () => {
    const webR = await ready();
    await webR.evalRVoid("rm(list = ls(globalenv(), all.names = TRUE), envir = globalenv())");
    await webR.evalRVoid(routines);
  }, 120_000);
  return {
    run: async (code) => (await ready()).evalRVoid(code),
    numbers: async (code) => (await ready()).evalRRaw(`as.numeric({${code}})`, "number[]"),
  };
};

/** Numbers as R writes a vector of them. */
export const asR = (values: ArrayLike<number>): string =>
  `c(${Array.from(values, (value) => String(value).replace("Infinity", "Inf")).join(",")})`;

/** Texts as R writes a vector of them. */
export const asText = (values: readonly string[]): string =>
  `c(${values.map((value) => JSON.stringify(value)).join(",")})`;
