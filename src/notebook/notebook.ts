/** What notebooks call beside the library: showing things, and checking answers. */
export { showOn } from "./show-on.js"; // where things are shown; once, in the first cell
export { openFile, ask, showAnswer } from "./ask.js"; // a file, a question, its answer
export { showTable } from "./show-table.js"; // a table, or a data frame
export { showSentences } from "./show-sentences.js"; // sentences, wrapped
export { rowsWhere, withColumn, printedGains } from "./rows-where.js"; // rows by conditions, a column of your own, gains as printed
export { showFigure, showSpecification, ownFigure } from "./show-figure.js"; // a figure, or a drawing of one's own
export { saveFigure, saveCard } from "./save-figure.js"; // a figure as drawing, picture or specification; an answer as a card
export { showCautions } from "./show-cautions.js"; // the cautions that go with protocols
export { checkAnswer } from "./check-answer.js"; // an exercise's answer
export type { NotebookDisplay } from "./show-on.js";
