/** What may stand inside a text. */
export type Shown = string | number;
