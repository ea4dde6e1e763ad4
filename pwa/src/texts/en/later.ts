/** English of the places that are loaded after the start. */
import * as care from "./care";
import * as alone from "./alone";
import * as failing from "./failing";
import * as handover from "./handover";
import * as job from "./job";
import * as office from "./office";
import * as sharing from "./sharing";
import * as shop from "./shop";

export const later = { ...alone, ...care, ...failing, ...handover, ...job, ...office, ...sharing, ...shop };
