import ts from "typescript";
import { expect } from "vitest";

/** One promise of an example: the expression and the value written after the arrow. */
type Promised = Readonly<{ expression: string; written: string }>;

/** Numbers agree to the digits written; one written without a point agrees to one part in 10⁹. */
const agree = (
  actual: unknown,
  written: unknown,
  digits: readonly number[],
  place: string,
): void => {
  let next = 0;
  const compare = (left: unknown, right: unknown, path: string): void => {
    if (typeof right === "number") {
      const decimals = digits[next] ?? 0;
      next += 1;
      expect(typeof left, path).toBe("number");
      const tolerance =
        decimals > 0 ? 0.5 * 10 ** -decimals * (1 + 1e-6) : 1e-9 * Math.max(1, Math.abs(right));
      const text = `${path}: got ${String(left)}, promised ${right}`;
      expect(Math.abs(Number(left) - right), text).toBeLessThanOrEqual(tolerance);
      return;
    }
    if (typeof right === "object" && right !== null) {
      const plain = ArrayBuffer.isView(left) ? [...(left as Float64Array)] : left;
      expect(plain, path).toBeTypeOf("object");
      const entries = Object.entries(right);
      expect(Object.keys(plain as object).toSorted(), path).toEqual(
        entries.map(([key]) => key).toSorted(),
      );
      for (const [key, value] of entries)
        compare((plain as Readonly<Record<string, unknown>>)[key], value, `${path}.${key}`);
      return;
    }
    expect(left, path).toEqual(right);
  };
  compare(actual, written, place);
};

/** Decimals of every number in a written value, in order; text in quotes does not count. */
const decimalsWritten = (written: string): readonly number[] =>
  [
    ...written
      .replace(/"[^"]*"|'[^']*'/g, "")
      .matchAll(/(?<![\w.])-?\d+(?:\.(\d+))?(?:e([+-]?\d+))?/g),
  ].map((match) => (match[1] ?? "").length - Number(match[2] ?? 0));

/** Code with its promises turned into calls of `promise(value, index)`. */
const instrumented = (code: string): Readonly<{ code: string; promises: readonly Promised[] }> => {
  const promises: Promised[] = [];
  const tree = ts.createSourceFile("example.ts", code, ts.ScriptTarget.ES2022, true);
  const pieces = tree.statements.map((statement, index) => {
    if (ts.isImportDeclaration(statement)) return "";
    const text = statement.getText().replace(/;$/, "");
    const end = tree.statements[index + 1]?.getStart() ?? code.length;
    const after = code.slice(statement.getEnd(), end);
    const arrow = /^\s*\/\/ ?=> ?([\s\S]*)$/.exec(after)?.[1];
    if (arrow === undefined) return `${text};`;
    const written = arrow
      .split("\n")
      .map((line) => line.replace(/^\s*\/\/ ?/, ""))
      .join(" ")
      .trim();
    const number = promises.length;
    if (ts.isExpressionStatement(statement)) {
      promises.push({ expression: text, written });
      return `promise(${text}, ${number});`;
    }
    if (ts.isVariableStatement(statement)) {
      const name = statement.declarationList.declarations.at(-1)?.name.getText() ?? "";
      promises.push({ expression: name, written });
      return `${text}; promise(${name}, ${number});`;
    }
    throw new Error(`an example promises the value of a statement that has none: ${text}`);
  });
  return { code: pieces.join("\n"), promises };
};

const asyncFunction = Object.getPrototypeOf(async () => undefined) as {
  constructor: new (...words: string[]) => (...values: unknown[]) => Promise<unknown>;
};

/**
 * Runs an example and holds each of its promises: an expression, and after it `// => value`.
 *
 * @param code TypeScript; its imports of the package are replaced by the scope
 * @param scope names the example may use
 * @param place what failures name
 * @returns how many promises were held
 */
export const runExample = async (
  code: string,
  scope: Readonly<Record<string, unknown>>,
  place: string,
): Promise<number> => {
  const { code: body, promises } = instrumented(code);
  const script = ts.transpile(body, {
    target: ts.ScriptTarget.ES2022,
    module: ts.ModuleKind.ESNext,
  });
  const check = (actual: unknown, index: number): void => {
    const promised = promises[index];
    if (promised === undefined) return;
    const evaluate = new Function(`return (${promised.written});`) as () => unknown;
    agree(
      actual,
      evaluate(),
      decimalsWritten(promised.written),
      `${place}: ${promised.expression}`,
    );
  };
  const names = Object.keys(scope);
  const run = new asyncFunction.constructor("promise", ...names, `"use strict";\n${script}`);
  await run(check, ...names.map((name) => scope[name]));
  return promises.length;
};
