// Bundles the page's program and style into two texts; used by the build, the browser tests and the bench.
import { join } from "node:path";
import { build } from "esbuild";

const root = import.meta.dirname;

// Parts of the drawing library for maps, networks, trees, fits, word clouds and named palettes: no figure here has any.
const leftOut =
  /^(?:vega-(?:geo|force|hierarchy|label|regression|voronoi|wordcloud|crossfilter|projection)|d3-(?:geo|scale-chromatic))$/;
/** What the drawing library lists as it starts; a palette without colours takes no room. */
const palettes = [
  ...["Accent", "Category10", "Dark2", "Observable10", "Paired"],
  ...["Pastel1", "Pastel2", "Set1", "Set2", "Set3"],
];
const withoutUnused = {
  name: "without unused",
  setup: ({ onResolve, onLoad }) => {
    onResolve({ filter: leftOut }, ({ path }) => ({ path, namespace: "unused" }));
    onLoad({ filter: /^d3-scale-chromatic$/, namespace: "unused" }, () => ({
      contents: palettes.map((name) => `export const scheme${name} = [];`).join("\n"),
    }));
    onLoad({ filter: /^/, namespace: "unused" }, () => ({ contents: "module.exports = {}" }));
    // The drawing library's compiler brings an older minor version of what the library itself brings.
    onResolve({ filter: /^vega-expression$/ }, () => ({
      path: join(root, "node_modules/vega-expression/build/vega-expression.js"),
    }));
  },
};

export const bundlePage = async ({ directory } = {}) => {
  const { outputFiles, metafile } = await build({
    absWorkingDir: root,
    entryPoints: { program: "src/page/main.tsx", style: "src/page/style/page.css" },
    outdir: directory ?? join(root, "dist/page"),
    write: directory !== undefined,
    metafile: true,
    bundle: true,
    minify: true,
    format: "iife",
    platform: "browser",
    target: ["es2022"],
    charset: "utf8",
    legalComments: "none",
    plugins: [withoutUnused],
    logLevel: "warning",
    tsconfig: join(root, "tsconfig.json"),
  });
  const text = (name) => outputFiles?.find(({ path }) => path.endsWith(name))?.text ?? "";
  return { script: text("program.js"), style: text("style.css"), metafile };
};
