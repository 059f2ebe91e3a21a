import { useEffect, useState } from "preact/hooks";
import {
  cautionsFor,
  nothingShown,
  type CautionsBlock,
  type CautionsShown,
} from "../../answers/session.js";
import type { Prescription } from "../../protocol/prescription.js";
import { cautionOrigin } from "../../tables/cautions-block.js";
import { Kept } from "./kept.js";
import { CautionEntries, PersonCautions } from "./person-cautions.js";
import { useApp, type App } from "../app.js";

/** What this page has said in full so far; a page that is opened anew begins with nothing. */
const saidIn = new WeakMap<App, CautionsShown>();

/** Cautions in full: the signs to stop at first. */
export const CautionsList = ({ block }: Readonly<{ block: Omit<CautionsBlock, "shown"> }>) => {
  const { stopSigns } = block;
  return (
    <>
      <div class="stop-signs">
        <p>
          <strong>{stopSigns.title}.</strong>
          {stopSigns.form === "short" ? ` ${stopSigns.text}` : ""}
        </p>
        {stopSigns.form === "short" ? null : (
          <>
            <ul>
              {stopSigns.signs.map((sign) => (
                <li key={sign}>{sign}</li>
              ))}
            </ul>
            <p>{stopSigns.text}</p>
          </>
        )}
        <p class="source">{cautionOrigin(stopSigns)}</p>
      </div>
      <CautionEntries entries={block.entries} />
    </>
  );
};

/** What a block says, to tell whether it says something else. */
const said = ({ entries, stopSigns }: CautionsBlock): string =>
  JSON.stringify([entries, stopSigns.form]);

/**
 * The cautions that go with some protocols: in full the first time, shortened from then on if wished,
 * never absent. Paper always carries them in full.
 */
export const CautionsPanel = ({
  prescriptions,
}: Readonly<{ prescriptions: readonly Prescription[] }>) => {
  const app = useApp();
  const [form, setForm] = useState<"full" | "short">(saidIn.has(app) ? "short" : "full");
  const block = cautionsFor(prescriptions, { shown: saidIn.get(app) ?? nothingShown, form });
  useEffect(() => {
    saidIn.set(app, block.shown);
  });
  return (
    <section class="cautions-panel" id="cautions" aria-labelledby="cautions-title">
      <h2 id="cautions-title">{block.title}</h2>
      <button
        type="button"
        class="quiet-button"
        onClick={() => setForm(form === "full" ? "short" : "full")}
      >
        {form === "full" ? "I have read them: shorten" : "Show them in full"}
      </button>
      <div class={form === "short" ? "on-screen" : ""}>
        <Kept of={[said(block)]} draw={() => <CautionsList block={block} />} />
      </div>
      {form === "short" ? (
        <div class="on-paper">
          <CautionsList block={cautionsFor(prescriptions)} />
        </div>
      ) : null}
    </section>
  );
};

/** One line of the cautions that stands above every protocol, with the way to the rest; then what applies to one person. */
export const CautionsLine = (of: Parameters<typeof PersonCautions>[0]) => {
  const { entries, stopSigns } = cautionsFor([], {
    shown: cautionsFor([]).shown,
    form: "short",
  });
  const [clinician] = entries;
  return (
    <div class="cautions-line">
      <p>
        {clinician?.text} {stopSigns.text}
      </p>
      <a
        href="#cautions"
        onClick={(event) => {
          // The address after # holds the view, so the jump is made by hand.
          event.preventDefault();
          const title = document.getElementById("cautions-title");
          title?.setAttribute("tabindex", "-1");
          title?.focus();
          title?.scrollIntoView();
        }}
      >
        All cautions
      </a>
      <PersonCautions {...of} />
    </div>
  );
};
