import { describe, expect, test } from "vitest";
import { phraseKey, rightAsTyped, withMeanings } from "../src/model/own-words";

const WORDS = [{ id: "tin worm", means: "rust" }, { id: "grobble", means: "" }];

describe("words of the shop's own", () => {
  test("are compared without capitals, accents and signs", () =>
    expect([phraseKey("Tin-Worm!"), phraseKey("  Gr\u00f6bble "), phraseKey("don\u2019t"), phraseKey("?")]).toEqual(["tin worm", "grobble", "don't", ""]));

  test("bring what they stand for beside them, whole phrases only", () => {
    expect(withMeanings("Tin worm in the floor", WORDS)).toBe("Tin worm in the floor . rust");
    expect(withMeanings("tin can, wormy grobble", WORDS)).toBe("tin can, wormy grobble");
  });

  test("stay as typed beside those of the question", () =>
    expect(rightAsTyped(["Heatd"], WORDS)).toEqual(["heatd", "tin worm", "grobble"]));
});
