import { answersView } from "./answers-view.js";
import { dataView } from "./data-view.js";
import { exploreView } from "./explore-view.js";
import { figuresView } from "./figures-view.js";
import { doseView } from "./dose-view.js";
import { madeView } from "./made-view.js";
import { protocolsView } from "./protocols-view.js";
import { rampView } from "./ramp-view.js";
import { reportView } from "./report-view.js";
import { startView } from "./start-view.js";
import { variablesView } from "./variables-view.js";
import type { View } from "./view.js";

/** Every view, in the order of the navigation. A new view is one file and one line here. */
export const views: readonly View[] = [
  startView,
  dataView,
  answersView,
  variablesView,
  doseView,
  protocolsView,
  exploreView,
  rampView,
  madeView,
  figuresView,
  reportView,
];
