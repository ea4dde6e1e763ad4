/** What is used at the car: the answer and the sheets over it. Loaded in the first quiet moment after the start. */
export { AdvicePlace } from "./app-advice";
export { OpenSheet } from "./app-sheets";
