import { reportStyle } from "../report/report-style.js";
import { holdbookVersion } from "../answers/version.js";
import { contentSecurityPolicy } from "./csp.js";
import { dataId, packedData, packedId, packedText, programId } from "./page-data.js";
import { typeId, type PageData } from "./page-data.js";

export type PageParts = Readonly<{
  /** The program, bundled. */
  script: string;
  style: string;
  /** The type of page and figures as a style sheet that holds it. */
  type: string;
  data: PageData;
}>;

/**
 * Unpacks the program and starts it. The policy admits the program's own text, whose worker is made from it; a browser
 * without the unpacking of 2023 is told so instead of a white page.
 */
const starter = `const place = document.getElementById("holdbook");
const packed = Uint8Array.from(atob(document.getElementById("${packedId}").textContent), (letter) => letter.charCodeAt(0));
const start = async () => {
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const program = document.createElement("script");
  program.id = "${programId}";
  program.textContent = await new Response(stream).text();
  document.body.append(program);
};
start().catch(() => {
  place.textContent = "This page needs a browser of 2023 or later. Open it in a newer one; the file itself is whole.";
});`;

/**
 * The whole page as one HTML text: program, style and data inside, nothing fetched. The program is packed, which makes the
 * file a little over half as large.
 *
 * The same parts give the same bytes.
 */
export const pageHtml = ({ script, style, type, data }: PageParts): string => {
  const policy = contentSecurityPolicy([starter, script], [style, reportStyle, type]);
  return [
    "<!doctype html>",
    `<html lang="en-GB">`,
    "<head>",
    `<meta charset="utf-8">`,
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    `<meta name="viewport" content="width=device-width, initial-scale=1">`,
    `<meta name="color-scheme" content="light dark">`,
    `<meta name="generator" content="Holdbook ${holdbookVersion}">`,
    "<title>Holdbook</title>",
    `<style id="${typeId}">${type}</style>`,
    `<style>${style}</style>`,
    "</head>",
    "<body>",
    `<div id="holdbook"></div>`,
    `<noscript><p>This page computes on your machine and needs JavaScript for it; it sends nothing anywhere.</p></noscript>`,
    `<script type="text/plain" id="${dataId}">${packedData(data)}</script>`,
    `<script type="text/plain" id="${packedId}">${packedText(script)}</script>`,
    `<script>${starter}</script>`,
    "</body>",
    "</html>",
    "",
  ].join("\n");
};
