import { addView } from "./add-view.js";
import { answersView } from "./answers-view.js";
import { changesView } from "./changes-view.js";
import { dataView } from "./data-view.js";
import { exploreView } from "./explore-view.js";
import { followView } from "./follow-view.js";
import { holdView } from "./hold-view.js";
import { figuresView } from "./figures-view.js";
import { doseView } from "./dose-view.js";
import { gridView } from "./grid-view.js";
import { madeView } from "./made-view.js";
import { protocolsView } from "./protocols-view.js";
import { rampView } from "./ramp-view.js";
import { reportView } from "./report-view.js";
import { settleView } from "./settle-view.js";
import { riskView } from "./risk-view.js";
import { startView } from "./start-view.js";
import { statementsView } from "./statements-view.js";
import { sureView } from "./sure-view.js";
import { teachView } from "./teach-view.js";
import { variablesView } from "./variables-view.js";
import type { Place, View } from "./view.js";

/** The places of the page, in the order of the navigation. A new view is one file and one line here. */
export const places: readonly Place[] = [
  {
    label: "Evidence",
    views: [answersView, variablesView, doseView, sureView, settleView, madeView, figuresView],
  },
  { label: "Protocols", views: [protocolsView, exploreView, holdView, rampView, followView] },
  { label: "Data", views: [dataView, addView, gridView, changesView, riskView] },
  { label: "Statements", views: [statementsView] },
  { label: "Teach", views: [teachView] },
  { label: "Report", views: [reportView] },
];

/** Every view; the first is shown where an address names none. */
export const views: readonly View[] = [startView, ...places.flatMap((place) => place.views)];
