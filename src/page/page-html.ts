import { reportStyle } from "../report/report-style.js";
import { holdbookVersion } from "../answers/version.js";
import { contentSecurityPolicy } from "./csp.js";
import { dataId, packedData, programId, typeId, type PageData } from "./page-data.js";

export type PageParts = Readonly<{
  /** The program, bundled. */
  script: string;
  style: string;
  /** The type of page and figures as a style sheet that holds it. */
  type: string;
  data: PageData;
}>;

/** A script's text that cannot end its element early, with the same meaning. */
const insideScript = (script: string): string =>
  script.replace(/<\/(script)/gi, "<\\/$1").replace(/<!--/g, "<\\!--");

/**
 * The whole page as one HTML text: program, style and data inside, nothing fetched.
 *
 * The same parts give the same bytes.
 */
export const pageHtml = ({ script, style, type, data }: PageParts): string => {
  const program = insideScript(script);
  const policy = contentSecurityPolicy([program], [style, reportStyle, type]);
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
    `<script id="${programId}">${program}</script>`,
    "</body>",
    "</html>",
    "",
  ].join("\n");
};
