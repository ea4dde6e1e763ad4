/** Spanish of the places that are loaded after the start. */
import * as after from "./after";
import * as alone from "./alone";
import * as care from "./care";
import * as desk from "./desk";
import * as failing from "./failing";
import * as handover from "./handover";
import * as job from "./job";
import * as office from "./office";
import * as people from "./people";
import * as scan from "./scan";
import * as sharing from "./sharing";
import * as shop from "./shop";

export const later = { ...after, ...alone, ...care, ...desk, ...failing, ...handover, ...job, ...office, ...people, ...scan, ...sharing, ...shop };
