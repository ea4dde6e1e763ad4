/** English of the places that are loaded after the start. */
import * as job from "./job";
import * as office from "./office";
import * as sharing from "./sharing";
import * as shop from "./shop";

export const later = { ...job, ...office, ...sharing, ...shop };
