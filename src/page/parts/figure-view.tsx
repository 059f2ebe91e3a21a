import { useState } from "preact/hooks";
import type { Figure } from "../../figures/figure.js";
import { figureRecipe, recipeText } from "../../report/figure-recipe.js";
import { figureCsv } from "../../report/report-files.js";
import { useApp, useAppState } from "../app.js";
import { failureOf } from "../failure.js";
import type { RecipeWords } from "../recipe-words.js";
import { saveFile } from "../save-file.js";
import { useTheme } from "../theme.js";
import { pictureOf, specificationText } from "./figure-files.js";
import { FullScreen } from "./full-screen.js";
import { useDrawing } from "./use-drawing.js";

export type FigureViewProps = Readonly<{
  figure: Figure;
  /** Words of the command that makes the figure again; absent where no command makes it. */
  words?: RecipeWords;
}>;

/** The recipe of a figure of the open table, or of one that rests on no table. */
const recipeOf = (
  figure: Figure,
  words: RecipeWords,
  check: Readonly<{ name: string; fingerprint: string }> | undefined,
): string | undefined => {
  const onTable = words.some((word) => typeof word !== "string" && word.input === "data");
  if (onTable && check === undefined) return undefined;
  const data =
    onTable && check !== undefined ? { name: check.name, fingerprint: check.fingerprint } : null;
  return recipeText(figureRecipe(figure, { command: words, data }));
};

/** What can be taken of a figure. */
const Takings = ({
  figure,
  words,
  onLecture,
}: FigureViewProps & Readonly<{ onLecture: () => void }>) => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const recipe = words === undefined ? undefined : () => recipeOf(figure, words, check);
  const { mode } = useTheme();
  const [said, setSaid] = useState("");
  const tell = (sentence: string): void => {
    setSaid(sentence);
    app.announce(sentence);
  };
  const attempt = async (work: () => Promise<void>): Promise<void> => {
    try {
      await work();
    } catch (error) {
      tell(`That did not work: ${failureOf(error).message}`);
    }
  };
  const picture = async (svg: string): Promise<Blob> => {
    const [, width = "600", height = "400"] =
      /^<svg[^>]* width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? [];
    return pictureOf(svg, Number(width), Number(height));
  };
  const copy = (): Promise<void> =>
    attempt(async () => {
      // The promise goes in as it is: a browser wants the request made while the click counts.
      const png = app.drawer.draw(figure, mode).then(picture);
      await navigator.clipboard.write([new ClipboardItem({ "image/png": png })]);
      tell("Copied as a picture; paste it into a slide");
    });
  const savePicture = (): Promise<void> =>
    attempt(async () => {
      saveFile(`${figure.id}.png`, await picture(await app.drawer.draw(figure)), "image/png");
      tell(`Saved ${figure.id}.png`);
    });
  const saveDrawing = (): Promise<void> =>
    attempt(async () => {
      saveFile(`${figure.id}.svg`, await app.drawer.draw(figure), "image/svg+xml");
      tell(`Saved ${figure.id}.svg`);
    });
  const save = (ending: string, text: string, type: string): void => {
    saveFile(`${figure.id}.${ending}`, text, type);
    tell(`Saved ${figure.id}.${ending}`);
  };
  return (
    <div class="takings">
      <span role="group" aria-label={`Take the figure: ${figure.title}`}>
        <button type="button" class="quiet-button" onClick={onLecture}>
          Full screen
        </button>
        <button type="button" class="quiet-button" onClick={() => void copy()}>
          Copy as picture
        </button>
        <button type="button" class="quiet-button" onClick={() => void saveDrawing()}>
          SVG
        </button>
        <button type="button" class="quiet-button" onClick={() => void savePicture()}>
          PNG
        </button>
        <button
          type="button"
          class="quiet-button"
          onClick={() => save("json", specificationText(figure), "application/json")}
        >
          Specification
        </button>
        <button
          type="button"
          class="quiet-button"
          onClick={() => save("csv", figureCsv(figure), "text/csv")}
        >
          Data
        </button>
        {recipe === undefined ? null : (
          <button
            type="button"
            class="quiet-button"
            title="For holdbook reproduce: settings, fingerprint of the table, and the numbers plotted"
            onClick={() => {
              const text = recipe();
              if (text !== undefined) save("recipe.json", text, "application/json");
            }}
          >
            Recipe
          </button>
        )}
      </span>
      <span class="quiet said">{said}</span>
    </div>
  );
};

/**
 * A figure: its picture, its caption, its words, and ways to take it.
 *
 * The picture follows the look of the page. Saved drawings are the light ones, the same as the command
 * line writes; what is copied is what is seen.
 */
export const FigureView = ({ figure, ...rest }: FigureViewProps) => {
  const { mode } = useTheme();
  const { drawing, failure } = useDrawing(figure, mode);
  const [lecture, setLecture] = useState(false);
  return (
    <figure class="figure">
      {failure === undefined ? null : <p role="alert">{failure}</p>}
      {drawing === undefined ? (
        failure === undefined ? (
          <p class="quiet drawing-soon">Drawing: {figure.title}</p>
        ) : null
      ) : (
        <div class="scroll" tabIndex={0} role="region" aria-label={figure.title}>
          <img
            src={drawing.address}
            width={drawing.width}
            height={drawing.height}
            alt={figure.description}
          />
        </div>
      )}
      <figcaption>{figure.caption}</figcaption>
      <details class="in-words">
        <summary>In words</summary>
        <p>{figure.description}</p>
      </details>
      <Takings figure={figure} {...rest} onLecture={() => setLecture(true)} />
      {lecture && drawing !== undefined ? (
        <FullScreen title={figure.title} onClose={() => setLecture(false)}>
          <img src={drawing.address} alt={figure.description} />
        </FullScreen>
      ) : null}
    </figure>
  );
};
