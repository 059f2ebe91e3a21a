import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { deflateRawSync } from "node:zlib";
import { mustHold, type Bench, type Measure } from "./bench.js";
import { benchRoot, builtCommand } from "./child.js";

type Bundled = Readonly<{
  script: string;
  style: string;
  metafile: Readonly<{
    outputs: Readonly<
      Record<string, Readonly<{ inputs: Readonly<Record<string, { bytesInOutput: number }>> }>>
    >;
  }>;
}>;

/** The package an input of the bundle belongs to, or the room of the project's own code. */
const partOf = (input: string): string => {
  const name = /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(input)?.[1];
  if (name === undefined) return input.split("/").slice(0, 2).join("/");
  if (name.startsWith("vega-lite")) return name;
  return /^(vega|d3-|topojson|delaunator|internmap|robust-)/.test(name) ? "vega and d3" : name;
};

/** Size of the page's one file before any data of the user, and of what it is made of. */
export const pageSize: Bench = {
  name: "page-size",
  title: "Size of the page's file before data, with its parts",
  run: async (progress) => {
    progress("writing the page");
    const folder = mkdtempSync(join(tmpdir(), "bench-"));
    let bytes: number;
    try {
      const path = join(folder, "page.html");
      builtCommand(["page", "-o", path]);
      bytes = readFileSync(path).length;
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
    progress("taking the bundle apart");
    const module = (await import(pathToFileURL(join(benchRoot, ".bundle-page.mjs")).href)) as {
      bundlePage: () => Promise<Bundled>;
    };
    const { script, style, metafile } = await module.bundlePage();
    // It travels packed, with typefaces that do not pack.
    const packed = deflateRawSync(script).length + style.length;
    mustHold("the page holds its program", bytes > packed);
    const parts = new Map<string, number>();
    for (const { inputs } of Object.values(metafile.outputs))
      for (const [input, { bytesInOutput }] of Object.entries(inputs))
        parts.set(partOf(input), (parts.get(partOf(input)) ?? 0) + bytesInOutput);
    const largest = [...parts].sort(([, first], [, second]) => second - first).slice(0, 12);
    return [
      { what: "page", value: bytes / 1e6, unit: "megabytes", goal: { atMost: 2 } },
      { what: "its program, unpacked", value: script.length / 1e6, unit: "megabytes" },
      ...largest.map(([part, size]): Measure => ({
        what: `of which ${part}, unpacked`,
        value: size / 1e6,
        unit: "megabytes",
      })),
    ];
  },
};
