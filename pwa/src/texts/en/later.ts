/** English of the places that are loaded after the start. */
import * as desk from "./desk";
import * as handover from "./handover";
import * as job from "./job";
import * as office from "./office";
import * as shop from "./shop";

export const later = { ...desk, ...handover, ...job, ...office, ...shop };
