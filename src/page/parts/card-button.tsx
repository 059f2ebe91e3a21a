import { useEffect, useRef, useState } from "preact/hooks";
import { answerCard, cardWithRecipe } from "../../answers/answer-card.js";
import type { Answer } from "../../answers/answer.js";
import type { NamedCard } from "../../figures/figure-list.js";
import { useApp } from "../app.js";
import { failureOf } from "../failure.js";
import { saveFile } from "../save-file.js";
import { copyPicture, pictureOf } from "./figure-files.js";
import { Skeleton } from "./hold-strip.js";
import { sizeOf } from "../../host/figure-svg.js";

type Made = Readonly<{
  card: NamedCard;
  svg: string;
  width: number;
  height: number;
  address: string;
  description: string;
}>;

/** The card of an answer, with ways to take it. */
const CardDialog = ({ answer, onClose }: Readonly<{ answer: Answer; onClose: () => void }>) => {
  const { drawer, announce } = useApp();
  const dialog = useRef<HTMLDialogElement>(null);
  const [made, setMade] = useState<Made>();
  const [said, setSaid] = useState("");
  useEffect(() => {
    dialog.current?.showModal();
    let address = "";
    let gone = false;
    const make = async (): Promise<void> => {
      const card = await answerCard(answer);
      const [drawn] = await drawer.draw(card);
      if (drawn === undefined || gone) return;
      const svg = cardWithRecipe(drawn.svg, answer, card);
      address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
      setMade({ card, svg, ...sizeOf(svg), address, description: drawn.figure.description });
    };
    make().catch((error: unknown) => setSaid(failureOf(error).message));
    return () => {
      gone = true;
      URL.revokeObjectURL(address);
    };
  }, []);
  const take = (words: string, work: (made: Made) => Promise<void>): void => {
    if (made === undefined) return;
    work(made).then(
      () => {
        setSaid(words);
        announce(words);
      },
      (error: unknown) => setSaid(`That did not work: ${failureOf(error).message}`),
    );
  };
  const picture = ({ svg, width, height }: Made): Promise<Blob> => pictureOf(svg, width, height, 1);
  const id = made?.card.data.id ?? "";
  return (
    <dialog ref={dialog} class="card-dialog" aria-label="Answer card" onClose={onClose}>
      {made === undefined ? (
        <Skeleton />
      ) : (
        <div class="card-picture" tabIndex={0} role="region" aria-label="The card itself">
          <img
            src={made.address}
            alt={made.description}
            style={{ "--ratio": String(made.width / made.height) }}
          />
        </div>
      )}
      <div class="row">
        <button
          type="button"
          class="main"
          onClick={() =>
            take(`Saved ${id}.svg`, ({ svg }) =>
              Promise.resolve(saveFile(`${id}.svg`, svg, "image/svg+xml")),
            )
          }
        >
          Save as SVG
        </button>
        <button
          type="button"
          onClick={() =>
            take(`Saved ${id}.png`, async (one) =>
              saveFile(`${id}.png`, await picture(one), "image/png"),
            )
          }
        >
          Save as PNG
        </button>
        <button
          type="button"
          onClick={() => take("Copied as a picture", (one) => copyPicture(picture(one)))}
        >
          Copy as picture
        </button>
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
        <span class="quiet said" role="status">
          {said}
        </span>
      </div>
      <p class="quiet">
        The SVG can be checked years later: <code>holdbook verify</code> asks its question again and
        compares every number. A PNG is a picture alone.
      </p>
    </dialog>
  );
};

/** A button in the line of an answer that gives it as a picture to share. */
export const CardButton = ({ answer }: Readonly<{ answer: Answer }>) => {
  const [shown, setShown] = useState<Answer>();
  return (
    <>
      <button type="button" class="quiet-button card-button" onClick={() => setShown(answer)}>
        Card<span class="unseen">: this answer as a picture to share</span>
      </button>
      {shown === undefined ? null : (
        <CardDialog answer={shown} onClose={() => setShown(undefined)} />
      )}
    </>
  );
};
