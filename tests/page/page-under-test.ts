import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium, type Browser, type BrowserContext, type Page } from "playwright-core";
import { figureFonts, fontFaces } from "../../src/host/figure-fonts.js";
import { pageHtml } from "../../src/page/page-html.js";
import { projectRoot } from "../house/source-tree.js";

const findChromium = (): string | undefined => {
  try {
    return execFileSync("sh", ["-c", "command -v chromium"], { encoding: "utf8" }).trim();
  } catch {
    return undefined;
  }
};
const executablePath = findChromium();

/** Whether the browser tests can run; where not, a line says which package is missing. */
export const hasBrowser = executablePath !== undefined;
if (!hasBrowser) {
  if (process.env["CI"] !== undefined)
    throw new Error("browser tests require the package chromium");
  process.stdout.write("Browser tests are left out: the package chromium is not installed.\n");
}

/** Where the pages of one worker are written, over those of the run before. */
export const pageFolder = join(
  projectRoot,
  `build/pages-under-test-${process.env["VITEST_POOL_ID"] ?? ""}`,
);
mkdirSync(pageFolder, { recursive: true });

type Bundle = (options?: object) => Promise<Readonly<{ script: string; style: string }>>;
const bundling = import(pathToFileURL(join(projectRoot, ".bundle-page.mjs")).href).then(
  (module: Readonly<{ bundlePage: Bundle }>) => module.bundlePage(),
);

const readText = (path: string): string => readFileSync(join(projectRoot, path), "utf8");

/** Writes the page, with a table inside where one is given; its address on disk. */
export const writePage = async (
  open?: Readonly<{ name: string; content: string | Uint8Array }>,
): Promise<string> => {
  const { script, style } = await bundling;
  const html = pageHtml({
    script,
    style,
    type: fontFaces(),
    data: {
      letters: (await figureFonts()).letterWidths(),
      glossary: (
        JSON.parse(readText("shared/glossary.json")) as {
          terms: { term: string; meaning: string }[];
        }
      ).terms.map(({ term, meaning }) => ({ term, meaning })),
      shipped: [
        {
          name: "published-outcomes.csv",
          label: "Published outcomes",
          text: readText("tests/first-wave/published-outcomes.csv"),
        },
      ],
      open:
        open === undefined
          ? null
          : { name: open.name, base64: Buffer.from(open.content).toString("base64") },
    },
  });
  const path = join(pageFolder, `page-${basename(open?.name ?? "empty")}.html`);
  writeFileSync(path, html);
  return pathToFileURL(path).href;
};

/** A page that is open, and everything it complained of or asked the network for. */
export type OpenedPage = Readonly<{
  page: Page;
  /** Console messages, errors and policy violations; a good page makes none. */
  complaints: () => readonly string[];
  /** Addresses asked for beside the page's own file; a good page asks for none. */
  requests: () => readonly string[];
  /** Milliseconds of every main-thread task longer than 50 ms since the last look. */
  longTasks: () => Promise<readonly number[]>;
  /** Waits until no longer work runs and every figure is drawn. */
  settled: () => Promise<void>;
  close: () => Promise<void>;
}>;

export type OpenPageOptions = Readonly<{
  width?: number;
  height?: number;
  dark?: boolean;
  /** Part of the address after #, e.g. "/answers". */
  hash?: string;
  /** Address of a page already written; a page without a table is written where left out. */
  address?: string;
}>;

let browser: Promise<Browser> | undefined;

const startBrowser = (): Promise<Browser> =>
  chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });

/** One browser for all files of a worker, started with the first page; it ends with the worker. */
const theBrowser = (): Promise<Browser> => (browser ??= startBrowser());

const watchTasks = (): void => {
  const seen: number[] = [];
  Object.assign(globalThis, { holdbookLongTasks: seen });
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) seen.push(duration);
  }).observe({ type: "longtask", buffered: true });
  document.addEventListener("securitypolicyviolation", (event) => {
    reportError(new Error(`policy violation: ${event.violatedDirective} ${event.blockedURI}`));
  });
};

/** Opens a page from disk in a browser that is offline. */
export const openPage = async (options: OpenPageOptions = {}): Promise<OpenedPage> => {
  const { width = 1280, height = 900, dark = false, hash = "" } = options;
  const address = options.address ?? (await writePage());
  const context: BrowserContext = await (
    await theBrowser()
  ).newContext({
    viewport: { width, height },
    colorScheme: dark ? "dark" : "light",
    offline: true,
    acceptDownloads: true,
  });
  const complaints: string[] = [];
  const requests: string[] = [];
  const page = await context.newPage();
  // The script below that watches tasks is kept out of the frame of a report, as any other is; that is said, and right.
  const kept = "Blocked script execution in 'about:srcdoc'";
  page.on("console", (message) => {
    if (!message.text().startsWith(kept)) complaints.push(`${message.type()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => complaints.push(`error: ${error.message}`));
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith("blob:") && !url.startsWith("data:") && url.split("#")[0] !== address)
      requests.push(url);
  });
  await page.addInitScript(watchTasks);
  await page.goto(hash === "" ? address : `${address}#${hash}`);
  // The program, where the document has one, unpacks after the document is there.
  await page.waitForFunction(() => document.getElementById("holdbook")?.childElementCount !== 0);
  return {
    page,
    complaints: () => complaints,
    requests: () => requests,
    longTasks: () =>
      page.evaluate(() => {
        const seen = (globalThis as unknown as { holdbookLongTasks: number[] }).holdbookLongTasks;
        return seen.splice(0);
      }),
    settled: async () => {
      await page.waitForSelector(".busy.idle", { state: "attached" });
      await page.waitForFunction(
        () =>
          document.querySelector(".busy.idle") !== null &&
          document.querySelector(".drawing-soon") === null &&
          document.querySelector("figure[aria-busy=true]") === null,
      );
    },
    close: () => context.close(),
  };
};
