import { expect, test } from "vitest";
import { escapeHtml } from "../../src/tables/escape-html.js";
import { tableToHtml } from "../../src/tables/table-to-html.js";
import { sampleTable } from "./sample-table.js";

const html = tableToHtml(sampleTable);

test("only the table's own elements stand in the markup", () => {
  const elements = new Set([...html.matchAll(/<\/?([a-z]+)/g)].map((match) => match[1]));
  expect([...elements].sort()).toEqual(
    ["caption", "div", "li", "table", "tbody", "td", "th", "thead", "tr", "ul"].sort(),
  );
  expect(html).toContain("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;");
});

test("caption, scopes and number classes", () => {
  expect(html).toContain("<caption>Gains &amp; losses &lt;by arm&gt;</caption>");
  expect(html.match(/scope="col"/g)).toHaveLength(3);
  expect(html.match(/scope="row"/g)).toHaveLength(3);
  expect(html).toContain('<td class="number tabular-nums">12.5</td>');
  expect(html).toContain('<th scope="col" class="number tabular-nums">Gain (%)</th>');
});

test("an attribute cannot be left by its text", () => {
  expect(tableToHtml({ ...sampleTable, id: 'a" onclick="x' })).toContain(
    'data-table="a&quot; onclick=&quot;x"',
  );
  expect(escapeHtml("a\u0000b\u202ec")).toBe("abc");
});
