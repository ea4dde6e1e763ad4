/** Everything that travels between phone and service, in one place to import. The office's parsers come later, with it. */

export * from "./wire-parse";
export * from "./wire-values";
export * from "./wire-case";
export * from "./wire-advice";
export * from "./wire-trade";
export * from "./wire-shop";
export type * from "./wire-office";
export type * from "./wire-send";
