/** One tap on an outcome: stored at once, unless the test shows a part that must be named. */
import { addOutcome } from "./app-job";
import { closeSheet, sheet } from "./app-sheet";
import { phone } from "./app-state";
import { outcomeWords } from "./views/words";
import type { ReadingBody } from "./wire";

export function takeOutcome(test: string, outcome: string, namesPart: boolean, reading?: ReadingBody): void {
  if (namesPart) {
    sheet.value = { kind: "name", test, outcome, ...(reading && { reading }) };
    return;
  }
  closeSheet();
  void addOutcome({ test, outcome, words: outcomeWords(phone.trade.value, test, outcome), ...(reading && { reading }) });
}
