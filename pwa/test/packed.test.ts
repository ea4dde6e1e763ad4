import { expect, test } from "vitest";
import { packedCase, unpackedCase } from "../src/model/packed-case";
import { packedText, unpackedText } from "../src/reason/packed-text";
import { aCase, freshName } from "./bench";
import { openDb } from "../src/db";
import { demoCopy, engineOf } from "./copy";
import { keepTexts, keptTexts } from "../src/reason-texts";

const copy = demoCopy();

test("a case comes back as it was laid up, and takes less room", () => {
  for (const file of copy.cases) expect(unpackedCase(packedCase(file))).toEqual(file);
  expect(JSON.stringify(copy.cases.map(packedCase)).length).toBeLessThan(0.8 * JSON.stringify(copy.cases).length);
});

test("a case laid up before there was packing comes back as it is", () => {
  const file = aCase({ note: "kept" });
  expect(unpackedCase(file)).toEqual(file);
});

test("what was read of a case comes back with the same terms and chances", () => {
  const engine = engineOf(copy);
  for (const file of copy.cases.slice(0, 40)) {
    const text = engine.readText(file);
    const back = unpackedText(packedText(text));
    const weights = new Map(back.terms);
    expect(back.terms.length).toBe(text.terms.length);
    for (const [term, weight] of text.terms) expect(weights.get(term)).toBeCloseTo(weight, 3);
    expect([back.words, back.symptoms.map(([id]) => id)]).toEqual([text.words, text.symptoms.map(([id]) => id)]);
  }
});

const EMPTY = { terms: [], words: [], symptoms: [] };

test("an empty text comes back empty", () => expect(unpackedText(packedText(EMPTY))).toEqual(EMPTY));

test("packets are read all together, the later of a case counts, and another reader's are dropped", async () => {
  const db = await openDb({ name: freshName() });
  const text = (id: string, mark: string) => ({ id, mark, text: { ...EMPTY, words: [mark] } });
  await keepTexts(db, [text("a", "1"), text("b", "1")], "now");
  await keepTexts(db, [text("a", "2")], "now");
  await keepTexts(db, [text("c", "1")], "before");
  const kept = await keptTexts(db, "now");
  expect(kept.map(({ id, mark }) => `${id}${mark}`).sort()).toEqual(["a2", "b1"]);
  expect((await db.packets()).map(({ reader }) => reader)).toEqual(["now"]);
});
