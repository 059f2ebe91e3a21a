import { escapeHtml } from "../tables/escape-html.js";

/** A sheet of its own to print or hand over, as a document that asks for nothing and runs nothing. */
export const sheetHtml = (
  title: string,
  { style, body }: Readonly<{ style: string; body: string }>,
): string => `<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="generator" content="Holdbook">
<title>${escapeHtml(title)}</title>
<style>${style}</style>
</head>
<body>
<main>
${body}
</main>
</body>
</html>
`;
