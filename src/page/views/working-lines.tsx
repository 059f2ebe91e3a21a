import type { Step, Working } from "../../answers/working/working.js";

/** Lines of a calculation: the formula, the numbers in it, what comes out. */
export const StepLines = ({ steps }: Readonly<{ steps: readonly Step[] }>) => (
  <ol class="steps">
    {steps.map(({ formula, numbers, result }) => (
      <li key={formula}>
        <span class="formula">{formula}</span>
        <span class="numbers">= {numbers}</span>
        <strong class="result">= {result}</strong>
      </li>
    ))}
  </ol>
);

/** A calculation in full: what goes in, line by line, and where the formula comes from. */
export const WorkingLines = ({ working }: Readonly<{ working: Working }>) => (
  <section class="working">
    <h4>{working.title}</h4>
    <dl class="symbols">
      {working.quantities.map(({ symbol, meaning, value }) => (
        <div key={symbol}>
          <dt>{symbol}</dt>
          <dd>
            <strong>{value}</strong> {meaning}
          </dd>
        </div>
      ))}
    </dl>
    <StepLines steps={working.steps} />
    <p class="source">{working.source}</p>
  </section>
);
