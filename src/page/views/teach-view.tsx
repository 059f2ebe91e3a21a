import { useEffect, useState } from "preact/hooks";
import { pictureName } from "../../course/course-files.js";
import { noteParts } from "../../course/notes-html.js";
import { readOutline } from "../../course/outline.js";
import { sizeOf } from "../../host/figure-svg.js";
import { counted } from "../../tables/number-format.js";
import { useAnswer, useApp, useAppState, useChoice } from "../app.js";
import { failureOf } from "../failure.js";
import type { CourseAsked, CourseMade } from "../jobs/course-job.js";
import { useFileKey, useOlder, useShared, WhatIsAsked } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { pictureOf } from "../parts/figure-files.js";
import { FigureView } from "../parts/figure-view.js";
import { Skeleton } from "../parts/hold-strip.js";
import { FileButton } from "../parts/open-panel.js";
import { saveFile } from "../save-file.js";
import type { View } from "./view.js";

/** Keys that turn slides wherever the focus is, and those that do on the slide alone. */
const turns = { ArrowLeft: -1, ArrowRight: 1 } as const;
const ends = { PageUp: -1, PageDown: 1, Home: -Infinity, End: Infinity } as const;

/** Turns slides by keys, where nothing else wants them. */
const useKeys = (turn: (by: number) => void): void =>
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      const { target, key, ctrlKey, metaKey, altKey } = event;
      if (ctrlKey || metaKey || altKey || !(target instanceof Element)) return;
      if (target.closest("input, textarea, select, dialog, nav") !== null) return;
      const known: Readonly<Record<string, number>> =
        target.closest(".slides") === null ? turns : { ...turns, ...ends };
      const by = known[key];
      if (by === undefined) return;
      event.preventDefault();
      turn(by);
    };
    addEventListener("keydown", listen);
    return () => removeEventListener("keydown", listen);
  });

const slideChoice = "teach-slide";

/** The slides one by one, each with its notes. */
const Slides = ({ slides }: Pick<CourseMade, "slides">) => {
  const app = useApp();
  const [chosen, choose] = useChoice(slideChoice, "");
  const placeOf = (id: string | undefined): number =>
    Math.max(
      0,
      slides.findIndex((one) => one.id === id),
    );
  const place = placeOf(chosen);
  const slide = slides[place]!;
  const go = (to: number): void => {
    const at = Math.max(0, Math.min(slides.length - 1, to));
    choose(slides[at]!.id);
    app.announce(`Slide ${at + 1} of ${slides.length}: ${slides[at]!.message}`);
  };
  // Keys may come faster than slides are drawn: they go on from what was chosen, not from what is seen.
  useKeys((by) => go(placeOf(app.store.get().address.choices[slideChoice]) + by));
  return (
    <div class="slides">
      <div class="row turning">
        <button type="button" disabled={place === 0} onClick={() => go(place - 1)}>
          <span aria-hidden="true">←</span>
          <span class="unseen">Slide before</span>
        </button>
        <select
          aria-label="Slide"
          value={slide.id}
          onChange={({ currentTarget }) => go(currentTarget.selectedIndex)}
        >
          {slides.map(({ id, message }, at) => (
            <option key={id} value={id}>
              {`${at + 1} of ${slides.length}. ${message}`}
            </option>
          ))}
        </select>
        <button type="button" disabled={place === slides.length - 1} onClick={() => go(place + 1)}>
          <span aria-hidden="true">→</span>
          <span class="unseen">Next slide</span>
        </button>
      </div>
      <FigureView
        figure={slide.figure}
        usual="slide"
        slides={slides.map(({ figure }) => figure)}
        onShow={(shown) => go(slides.findIndex(({ figure }) => figure.data.id === shown))}
      />
      <section class="notes" aria-label="Notes">
        <h2>{slide.message}</h2>
        {noteParts(slide.notes).map(({ title, texts, kind }) => (
          <div key={title}>
            <h3>{title}</h3>
            {texts.map((text) => (
              <p key={text} class={kind}>
                {text}
              </p>
            ))}
          </div>
        ))}
      </section>
    </div>
  );
};

/** The whole course as one file: slides drawn one after the other, so that the page stays awake. */
const SaveCourse = ({ made, asked }: Readonly<{ made: CourseMade; asked: CourseAsked }>) => {
  const app = useApp();
  const [said, setSaid] = useState("");
  const save = async (): Promise<void> => {
    const { file } = app.store.get();
    if (file === undefined) return;
    const drawings: Record<string, string> = {};
    const pictures: Record<string, string | Uint8Array> = {};
    const without: number[] = [];
    const { type } = app.drawer;
    const zip = await app.work("Saving the course", async (tell) => {
      for (const [place, slide] of made.slides.entries()) {
        tell(`slide ${place + 1} of ${made.slides.length}`);
        const [page] = await app.drawer.draw(slide.figure, undefined, "slide");
        const { svg } = page!;
        const name = pictureName(place, slide);
        drawings[slide.figure.data.id] = pictures[`${name}.svg`] = svg;
        const { width, height } = sizeOf(svg);
        await pictureOf(svg, width, height, 1).then(
          async (png) => {
            pictures[`${name}.png`] = new Uint8Array(await png.arrayBuffer());
          },
          () => without.push(place + 1),
        );
      }
      tell("pages");
      return app.worker.ask("courseFiles", { ...asked, file, type, drawings, pictures }, { tell });
    });
    if (zip === undefined) return;
    const name = `${file.name.replace(/\.[^.]*$/, "")}-course.zip`;
    saveFile(name, zip, "application/zip");
    const sentence = `Saved ${name}${without.length === 0 ? "" : `; this browser made no PNG of ${counted(without.length, "slide")} (${without.join(", ")}), which are there as SVG`}.`;
    setSaid(sentence);
    app.announce(sentence);
  };
  const busy = useAppState((state) => state.busy !== undefined);
  return (
    <div class="row">
      <button type="button" class="main" disabled={busy} onClick={() => void save()}>
        Save the course
      </button>
      <span class="quiet">{said}</span>
    </div>
  );
};

/** The outline as a file of JSON, to change what is taught; what cannot be read is told beside it. */
const OutlineEditor = ({ text }: Readonly<{ text: string }>) => {
  const app = useApp();
  const own = useAppState((state) => state.outline);
  // What a project brings, or what was just made, is what is edited next.
  const draft = useAppState(({ outline, outlineDraft }) =>
    outlineDraft?.from === outline ? outlineDraft.text : undefined,
  );
  const [problem, setProblem] = useState("");
  // Who comes back to something half typed finds it open.
  const [wasTyped] = useState(draft !== undefined);
  const shown = draft ?? (own === "" ? text : own);
  const make = (): void => {
    try {
      readOutline(shown);
      setProblem("");
      app.store.set({ outline: shown, outlineDraft: undefined });
    } catch (error) {
      setProblem(failureOf(error).message);
    }
  };
  const take = (next: string | undefined): void => {
    setProblem("");
    app.store.set({ outlineDraft: next === undefined ? undefined : { text: next, from: own } });
  };
  return (
    <details open={wasTyped}>
      <summary>Change the outline</summary>
      <p class="quiet" id="outline-form">
        Order and choice of slides, an outcome, sessions of your own; a slide may have its own
        title, say, asked and trap, or be any question with its options. Give the saved file to next
        year’s course.
      </p>
      <textarea
        class="file-text"
        aria-label="The outline"
        aria-describedby="outline-form"
        rows={14}
        spellcheck={false}
        value={shown}
        onInput={(event) => take(event.currentTarget.value)}
      />
      {problem === "" ? null : <p role="alert">{problem}</p>}
      <div class="row">
        <button type="button" class="main" onClick={make}>
          Make this course
        </button>
        <FileButton
          words="Open an outline"
          label="An outline"
          accept=".json,application/json"
          take={async (file) => take(await file.text())}
        />
        <button
          type="button"
          class="quiet-button"
          onClick={() => saveFile("outline.json", shown, "application/json")}
        >
          Save the outline
        </button>
        <button
          type="button"
          class="quiet-button"
          onClick={() => {
            take(undefined);
            app.store.set({ outline: "" });
          }}
        >
          Every slide again
        </button>
      </div>
    </details>
  );
};

const TeachBody = () => {
  const app = useApp();
  const { older, olderKey } = useOlder();
  const asked = { options: useShared(), outline: useAppState((state) => state.outline), older };
  const answer = useAnswer(
    `${useFileKey()} ${olderKey} ${JSON.stringify([asked.options, asked.outline])}`,
    (tell) => app.worker.ask("course", asked, { tell }),
    "Making the course",
  );
  const made = answer.state === "done" ? answer.output : undefined;
  const untold = made?.slides.filter(({ told }) => !told) ?? [];
  return (
    <div class="teach">
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "waiting" ? <Skeleton /> : null}
      {made === undefined ? null : (
        <>
          <p class="headline">
            {`${made.title}, ${counted(made.slides.length, "slide")} about ${made.outcome}, ${counted(made.items, "quiz item")}`}
          </p>
          <SaveCourse made={made} asked={asked} />
          <Slides slides={made.slides} />
          {made.since === undefined ? null : (
            <p class="quiet">
              {`Set beside ${made.since.name}: the notes say what moved, and the saved course has a sheet of what changed.`}
            </p>
          )}
          {untold.length === 0 ? null : (
            <p class="quiet">
              {`This file cannot answer ${counted(untold.length, "slide")}, which ${untold.length === 1 ? "says" : "say"} so: ${untold.map((one) => made.slides.indexOf(one) + 1).join(", ")}.`}
            </p>
          )}
          <p class="quiet">
            The course is one .zip with what the command line writes: slides as one page that works
            offline and as pictures, notes, handout, quiz with its key apart, reading list, outline.
            A page cannot print by itself, so PDFs are yours to print.
          </p>
        </>
      )}
      <OutlineEditor text={made?.outline ?? ""} />
      <WhatIsAsked />
    </div>
  );
};

/** A course on the open file: slides with notes, and everything that goes with them as one file. */
export const teachView: View = {
  id: "teach",
  label: "Teach",
  needsFile: true,
  shows: "Slides with notes, a handout and a quiz on the file, to be saved as one.",
  Body: TeachBody,
};
