/** The engine's numbers by name; one that did not travel is a fault of the copy, not a zero. */

import type { Figures } from "../wire-reasoning";

export class CopyError extends Error {
  override readonly name = "CopyError";
}

export type Figure = (home: string, name: string) => number;

export const figuresOf =
  (figures: Figures): Figure =>
  (home, name) => {
    const value = figures[home]?.[name];
    if (value === undefined) throw new CopyError(`the copy lacks the figure ${home}.${name}: fetch it anew with signal`);
    return value;
  };
