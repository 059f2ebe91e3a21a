import { useState } from "preact/hooks";
import { useApp } from "../app.js";

/** Text to take along, with a button that copies it. */
export const CopyText = ({ text, what }: Readonly<{ text: string; what: string }>) => {
  const app = useApp();
  const [said, setSaid] = useState("");
  const copy = async (): Promise<void> => {
    let sentence = `Copied ${what}`;
    try {
      await navigator.clipboard.writeText(text);
    } catch {
      sentence = "This browser does not let the page copy; mark the text and copy it";
    }
    setSaid(sentence);
    app.announce(sentence);
  };
  return (
    <div class="copy-text">
      <p class="long-text">{text}</p>
      <button type="button" class="quiet-button" onClick={() => void copy()}>
        Copy<span class="unseen"> {what}</span>
      </button>
      <span class="quiet said">{said}</span>
    </div>
  );
};
