import { useState } from "preact/hooks";
import type { Answer } from "../../answers/answer.js";
import { figureRecipe, recipeText } from "../../answers/figure-recipe.js";
import type { Figure } from "../../figures/figure.js";
import { figureSizes, type FigureSize } from "../../figures/frame.js";
import { figureCsv } from "../../report/report-files.js";
import { useApp } from "../app.js";
import { failureOf } from "../failure.js";
import type { Drawable } from "../jobs/draw-job.js";
import type { FigureMode } from "../../figures/theme.js";
import { saveFile } from "../save-file.js";
import { useTheme } from "../theme.js";
import { useNarrow } from "../views/use-narrow.js";
import { copyPicture, pictureOf, specificationText } from "./figure-files.js";
import { FigureRows } from "./figure-rows.js";
import { sizeOf } from "../../host/figure-svg.js";
import { FullScreen, type FullScreenProps } from "./full-screen.js";
import { useDrawing, type Drawing } from "./use-drawing.js";
import { useRoom } from "./use-room.js";

export type FigureViewProps = Readonly<{
  figure: Drawable;
  /** The answer it belongs to, for its recipe. */
  answer?: Answer;
  words?: unknown;
  /** The size on a wide screen before another is chosen. */
  usual?: FigureSize;
}> &
  Pick<FullScreenProps, "slides" | "onShow">;

type Sized = FigureViewProps & Readonly<{ size: FigureSize; onSize: (size: FigureSize) => void }>;

const sizeWords: Readonly<Record<FigureSize, string>> = {
  column: "For a column or a phone",
  page: "For a page",
  slide: "For a slide",
};

/** What can be taken of a figure. */
const Takings = ({
  figure: drawable,
  page: figure,
  answer,
  size,
  onSize,
  onLecture,
}: Sized & Readonly<{ page: Figure; onLecture: () => void }>) => {
  const app = useApp();
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
  const svgOf = async (mode?: FigureMode): Promise<string> =>
    (await app.drawer.draw(drawable, mode, size)).find((one) => one.figure.id === figure.id)?.svg ??
    "";
  const picture = (svg: string): Promise<Blob> => {
    const { width, height } = sizeOf(svg);
    return pictureOf(svg, width, height);
  };
  const copy = (): Promise<void> =>
    attempt(async () => {
      await copyPicture(svgOf(mode).then(picture));
      tell("Copied as a picture; paste it into a slide");
    });
  const savePicture = (): Promise<void> =>
    attempt(async () => {
      saveFile(`${figure.id}.png`, await picture(await svgOf()), "image/png");
      tell(`Saved ${figure.id}.png`);
    });
  const saveDrawing = (): Promise<void> =>
    attempt(async () => {
      saveFile(`${figure.id}.svg`, await svgOf(), "image/svg+xml");
      tell(`Saved ${figure.id}.svg`);
    });
  const save = (ending: string, text: string, type: string): void => {
    saveFile(`${figure.id}.${ending}`, text, type);
    tell(`Saved ${figure.id}.${ending}`);
  };
  return (
    <div class="takings">
      <select
        aria-label={`Size of the figure: ${figure.title}`}
        value={size}
        onChange={({ currentTarget }) => onSize(currentTarget.value as FigureSize)}
      >
        {figureSizes.map((one) => (
          <option key={one} value={one}>
            {sizeWords[one]}
          </option>
        ))}
      </select>
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
        {answer === undefined || "specification" in drawable ? null : (
          <button
            type="button"
            class="quiet-button"
            title="For holdbook reproduce: the question, the file's fingerprint, and everything drawn"
            onClick={() => {
              const name = `${drawable.data.id}.recipe.json`;
              saveFile(name, recipeText(figureRecipe(answer, drawable)), "application/json");
              tell(`Saved ${name}; holdbook reproduce ${name} FILE asks it again`);
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

/** One page of a figure: its picture with key and source inside, its words, and ways to take it. */
const OnePage = ({
  drawing,
  drawnSize,
  isFitted,
  stale,
  ...rest
}: Sized &
  Readonly<{
    drawing: Drawing;
    drawnSize: FigureSize;
    /** Whether it was drawn for the room it has, and never stands over it. */
    isFitted: boolean;
    /** While the next one is drawn: nothing on it can be pressed. */
    stale: boolean;
  }>) => {
  const { figure, address, width, height } = drawing;
  const [lecture, setLecture] = useState(false);
  return (
    <figure class="figure" id={figure.id} aria-busy={stale}>
      <div
        class="scroll"
        tabIndex={0}
        role="region"
        aria-label={`Figure ${figure.id}: ${figure.title}`}
      >
        <div
          class={`drawn ${drawnSize}${isFitted ? " fitted" : ""}`}
          style={{ width: `${width}px` }}
        >
          <img src={address} width={width} height={height} alt={figure.description} />
          {stale ? null : (
            <FigureRows
              of={rest.figure}
              page={figure}
              svg={drawing.svg}
              column={drawnSize === "column"}
            />
          )}
        </div>
      </div>
      <details class="in-words">
        <summary>In words</summary>
        <p>{figure.description}</p>
        <p>{figure.caption}</p>
      </details>
      <Takings {...rest} page={figure} onLecture={() => setLecture(true)} />
      {lecture ? (
        <FullScreen
          figure={rest.figure}
          page={figure.id}
          onClose={() => setLecture(false)}
          slides={rest.slides}
          onShow={rest.onShow}
        />
      ) : null}
    </figure>
  );
};

/**
 * A figure of an answer, every page of it.
 *
 * The picture follows the look of the page. Saved drawings are the light ones, the same as the command
 * line writes; what is copied is what is seen.
 */
export const FigureView = (props: FigureViewProps) => {
  const { mode } = useTheme();
  const narrow = useNarrow();
  const [chosen, setChosen] = useState<FigureSize>();
  const size = chosen ?? (narrow ? "column" : (props.usual ?? "page"));
  const [holder, room] = useRoom();
  // Who chose a page has it as wide as it is saved.
  const isFitted = chosen === undefined && size === "page";
  const points = isFitted ? room : undefined;
  const { drawings, failure, asked, ...drawn } = useDrawing(props.figure, mode, size, points);
  const isStale = drawn.of !== props.figure || asked?.size !== size || asked.points !== points;
  return (
    <div ref={holder}>
      {failure !== undefined ? (
        <p role="alert">{failure}</p>
      ) : drawings === undefined ? (
        <p class="quiet drawing-soon">Drawing a figure</p>
      ) : (
        drawings.map((drawing, at) => (
          <OnePage
            // By its place: who turns a slide keeps the focus, and the whole screen.
            key={at}
            {...props}
            size={chosen ?? drawn.size ?? size}
            onSize={setChosen}
            drawing={drawing}
            drawnSize={drawn.size ?? size}
            isFitted={isFitted}
            stale={isStale}
          />
        ))
      )}
    </div>
  );
};
