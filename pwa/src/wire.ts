/** Everything that travels between phone and service: types and parsers, in one place to import. */

export * from "./wire-parse";
export * from "./wire-values";
export * from "./wire-case";
export * from "./wire-advice";
export * from "./wire-trade";
export * from "./wire-shop";
export * from "./wire-send";
