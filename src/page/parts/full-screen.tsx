import { useEffect, useRef, useState } from "preact/hooks";
import type { Drawable } from "../jobs/draw-job.js";
import type { Coming } from "../app.js";
import { useTheme } from "../theme.js";
import { capital } from "../../tables/number-format.js";
import { useAllFigures } from "./all-figures.js";
import { useNarrow } from "../views/use-narrow.js";
import { useDrawing } from "./use-drawing.js";

export type FullScreenProps = Readonly<{
  /** The figure that is shown first, and which of its pages. */
  figure: Drawable;
  page: string;
  onClose: () => void;
  /** What it is shown among; every figure of the open file where left out. */
  slides?: readonly Drawable[] | undefined;
  /** Hears which one is shown, by its id. */
  onShow?: ((id: string) => void) | undefined;
}>;

const idOf = (figure: Drawable): string =>
  "data" in figure && "name" in figure ? figure.data.id : figure.id;

/** Where a key leads from a slide; `last` and `first` are ends of all of them. */
const keys: Readonly<Record<string, -1 | 1 | "first" | "last">> = {
  ArrowRight: 1,
  ArrowDown: 1,
  PageDown: 1,
  ArrowLeft: -1,
  ArrowUp: -1,
  PageUp: -1,
  Home: "first",
  End: "last",
};

/** A dialog over the whole screen where the browser gives it, and over the page where not. */
const useWholeScreen = () => {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    let open = true;
    const before = document.activeElement;
    const begin = async (): Promise<void> => {
      try {
        await document.documentElement.requestFullscreen();
      } catch {
        // Not allowed here; filling the page does.
      }
      if (open) dialog.current?.showModal();
    };
    const changed = (): void => {
      if (document.fullscreenElement === null) dialog.current?.close();
    };
    void begin();
    document.addEventListener("fullscreenchange", changed);
    return () => {
      open = false;
      document.removeEventListener("fullscreenchange", changed);
      if (document.fullscreenElement !== null) void document.exitFullscreen();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return dialog;
};

type Among = FullScreenProps & Readonly<{ all: Coming<readonly Drawable[]> }>;

/** A figure alone on the whole screen, as a slide; arrow keys go through those it is among, Escape or the button ends it. */
const Lecture = ({ figure: own, page, onClose, slides, onShow, all }: Among) => {
  const dialog = useWholeScreen();
  const { mode } = useTheme();
  const one = slides === undefined ? "figure" : "slide";
  // The figure that was opened keeps its place among the others, as it was asked for.
  const others = all.state === "done" ? all.output : [];
  const isAmong = others.some((one) => idOf(one) === idOf(own));
  const figures: readonly Drawable[] = isAmong
    ? others.map((one) => (idOf(one) === idOf(own) ? own : one))
    : [own, ...others];
  const [id, setId] = useState(idOf(own));
  const [wanted, setWanted] = useState<string | "first" | "last">(page);
  const place = Math.max(
    0,
    figures.findIndex((one) => idOf(one) === id),
  );
  const figure = figures[place] ?? own;
  const narrow = useNarrow();
  const stage = useRef<HTMLDivElement>(null);
  // On a narrow screen the letters of a slide would be too small; what is a slide already can be moved about instead.
  const size =
    narrow && !("specification" in figure) && figure.name !== "card" ? "column" : "slide";
  const { drawings = [], of, failure } = useDrawing(figure, mode, size);
  const at =
    wanted === "last"
      ? drawings.length - 1
      : Math.max(
          0,
          drawings.findIndex((one) => one.figure.id === wanted),
        );
  const shown = drawings[at];
  const step = (way: (typeof keys)[string]): void => {
    const next = typeof way === "number" ? (of === figure ? at + way : undefined) : undefined;
    const sibling = next === undefined ? undefined : drawings[next];
    if (sibling !== undefined) return setWanted(sibling.figure.id);
    const to = way === "first" ? 0 : way === "last" ? figures.length - 1 : place + way;
    const found = figures[to];
    if (found === undefined) return;
    setId(idOf(found));
    onShow?.(idOf(found));
    setWanted(way === "last" || way === -1 ? "last" : "first");
  };
  const title = shown?.figure.title ?? "";
  const said =
    failure ??
    (all.state === "failed"
      ? `${title} The other figures could not be made: ${all.failure.message}`
      : all.state === "waiting"
        ? `${title} The other figures are being made.`
        : `${capital(one)} ${place + 1} of ${figures.length}${drawings.length > 1 ? `, page ${at + 1} of ${drawings.length}` : ""}: ${title}`);
  return (
    <dialog
      ref={dialog}
      class="full-screen"
      aria-label={`${capital(one)}s on the whole screen`}
      onClose={onClose}
      onKeyDown={(event) => {
        const way = keys[event.key];
        const { scrollHeight = 0, clientHeight = 0 } = stage.current ?? {};
        // Where there is more below, only the keys to the sides turn the page.
        const scrolls = scrollHeight > clientHeight + 1;
        if (way === undefined || (scrolls && !/Left|Right/.test(event.key))) return;
        event.preventDefault();
        step(way);
      }}
    >
      <div class="lecture">
        <button type="button" disabled={all.state !== "done"} onClick={() => step(-1)}>
          <span aria-hidden="true">←</span>
          <span class="unseen">{capital(one)} before</span>
        </button>
        <span class="quiet" aria-hidden="true">
          {all.state === "done" ? `${place + 1} of ${figures.length}` : "…"}
        </span>
        <button type="button" disabled={all.state !== "done"} onClick={() => step(1)}>
          <span aria-hidden="true">→</span>
          <span class="unseen">Next {one}</span>
        </button>
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </div>
      <p class="unseen" role="status">
        {said}
      </p>
      <div
        ref={stage}
        class={`stage ${size}`}
        tabIndex={0}
        role="region"
        aria-label={`The ${one} itself`}
      >
        {shown === undefined ? (
          <p>{failure}</p>
        ) : (
          <img src={shown.address} alt={shown.figure.description} />
        )}
      </div>
    </dialog>
  );
};

const AmongAll = (props: FullScreenProps) => {
  const all = useAllFigures("");
  return (
    <Lecture
      {...props}
      all={
        all.state === "done"
          ? { ...all, output: all.output.map(({ figure }) => figure) }
          : all.state === "failed"
            ? { ...all, last: undefined }
            : all
      }
    />
  );
};

/** The whole screen for one figure among every figure of the open file, or for a slide among slides. */
export const FullScreen = (props: FullScreenProps) =>
  props.slides === undefined ? (
    <AmongAll {...props} />
  ) : (
    <Lecture {...props} all={{ state: "done", output: props.slides }} />
  );
