/** Slides as one page that works without a network: arrow keys, notes, and print. */
import { escapeHtml } from "../tables/escape-html.js";
import type { Course } from "./course.js";
import { notesText } from "./notes-html.js";
import { documentHtml } from "./paper.js";

const css = `
* { box-sizing: border-box; }
body { margin: 0; background: #2a2f36; color: #1b2530; font: 17px/1.45 Inter, "Helvetica Neue", Arial, sans-serif; }
.slide { width: min(100vw, 177.78vh); margin: 0 auto 1rem; background: #fff; }
.slide svg { width: 100%; height: auto; display: block; }
.note { display: none; background: #fbf8f1; padding: 1rem 1.5rem 2rem; }
.note h3 { font-size: 0.85rem; margin: 0.7rem 0 0; color: #173f75; }
.note p { margin: 0.1rem 0 0; max-width: 60em; }
.notes .note { display: block; }
.shown .slide { display: none; margin: 0 auto; }
.shown .slide.on { display: block; }
.help { color: #cfd6dd; text-align: center; margin: 0.5rem; font-size: 14px; }
@page { size: 1920px 1080px; margin: 0; }
@media print {
  body { background: #fff; }
  .help, .notes .note, .note { display: none; }
  .slide, .shown .slide { display: block; width: 1920px; height: 1079px; overflow: hidden; margin: 0; break-after: page; }
}
`;

/** Arrow keys, space and page keys turn slides, n shows the notes; the address keeps the place. */
const text = `(()=>{const s=[...document.querySelectorAll(".slide")],b=document.body;let i=0;const go=n=>{i=Math.max(0,Math.min(s.length-1,n));s.forEach((e,k)=>e.classList.toggle("on",k===i));history.replaceState(null,"","#"+(i+1));document.title=s[i].getAttribute("aria-label");scrollTo(0,0)};const at=()=>(parseInt(location.hash.slice(1),10)||1)-1;b.classList.add("shown");go(at());addEventListener("hashchange",()=>go(at()));addEventListener("keydown",e=>{if(e.ctrlKey||e.metaKey||e.altKey)return;const k=e.key;if(["ArrowRight","ArrowDown","PageDown"," ","Enter"].includes(k))go(i+1);else if(["ArrowLeft","ArrowUp","PageUp","Backspace"].includes(k))go(i-1);else if(k==="Home")go(0);else if(k==="End")go(s.length-1);else if(k==="n")b.classList.toggle("notes");else return;e.preventDefault()});addEventListener("click",e=>{if(!e.target.closest(".note"))go(i+(e.clientX<innerWidth/3?-1:1))})})();`;

/** The script with the hash by which the page allows it and no other; a test compares the two. */
export const slideScript = { text, hash: "vmNzbYCq49J8rOZ6W2/oilEMnF0gCyic8rVWWF50xFY=" } as const;

/**
 * The slides of a course as one page.
 *
 * @param drawn the picture of a slide as SVG, by the id of its figure; or a mark that stands for it
 * @param type  the style sheet of the type
 */
export const slidesHtml = (
  { title, slides }: Course,
  drawn: (id: string) => string,
  type = "",
): string =>
  documentHtml(
    title,
    [
      ...slides.map(
        ({ figure, message, notes }, place) =>
          `<section class="slide" aria-label="${escapeHtml(`${place + 1}. ${message}`)}">${drawn(figure.data.id)}<aside class="note">${notesText(notes)}</aside></section>`,
      ),
      `<p class="help">Arrow keys turn the slides, n shows the notes, print makes a PDF.</p>`,
    ],
    { type, css, script: slideScript },
  );
