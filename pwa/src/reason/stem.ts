/**
 * English word stems by Martin Porter's second algorithm, in the revision of Snowball 3 that the service uses.
 * Source: snowballstem.org/algorithms/english/stemmer.html (BSD-licensed description).
 */

const VOWELS = new Set("aeiouy");
const DOUBLES = new Set(["bb", "dd", "ff", "gg", "mm", "nn", "pp", "rr", "tt"]);
const BEFORE_LI = new Set("cdeghkmnrt");
const WHOLE: Readonly<Record<string, string>> = {
  skis: "ski", skies: "sky", idly: "idl", gently: "gentl", ugly: "ugli", early: "earli", only: "onli", singly: "singl",
  andes: "andes", atlas: "atlas", bias: "bias", cosmos: "cosmos", howe: "howe", news: "news", sky: "sky",
};
const BEGINNINGS = ["arsen", "commun", "emerg", "gener", "inter", "later", "organ", "past", "univers"];
const KEEP_ING = new Set(["even", "cann", "inn", "earr", "herr", "out"]);
const KEEP_EED = new Set(["succ", "proc", "exc"]);

type Ending = readonly [ending: string, instead: string];
/** Longest first, as the longest that fits decides. */
const longestFirst = (pairs: string): readonly Ending[] =>
  pairs
    .split(" ")
    .map((pair) => pair.split(":"))
    .map(([ending = "", instead = ""]) => [ending, instead] as const)
    .sort(([a], [b]) => b.length - a.length);

const SECOND = longestFirst(
  "anci:ance enci:ence ogi:og li: bli:ble abli:able alli:al fulli:ful lessli:less ousli:ous entli:ent aliti:al " +
    "biliti:ble iviti:ive tional:tion ational:ate alism:al ation:ate ization:ize izer:ize ator:ate iveness:ive " +
    "fulness:ful ousness:ous ogist:og",
);
const THIRD = longestFirst("icate:ic ative: alize:al iciti:ic ical:ic tional:tion ational:ate ful: ness:");
const FOURTH = longestFirst(
  "ic: ance: ence: able: ible: ate: ive: ize: iti: al: ism: ion: er: ous: ant: ent: ment: ement:",
);

const isVowel = (letter: string | undefined): boolean => letter !== undefined && VOWELS.has(letter);

/** Where the word goes on after its first vowel and the consonant behind it. */
function region(word: string, from: number): number {
  let at = from;
  while (at < word.length && !isVowel(word[at])) at += 1;
  while (at < word.length && isVowel(word[at])) at += 1;
  return Math.min(at + 1, word.length);
}

/** Ends in a short syllable: vowel and consonant, but for w, x and Y, after a consonant or at the start. */
function endsShort(word: string): boolean {
  const n = word.length;
  const [last, middle, first] = [word[n - 1], word[n - 2], word[n - 3]];
  if (word.endsWith("past")) return true;
  if (last === undefined || !isVowel(middle) || isVowel(last)) return false;
  if (n === 2) return true;
  return !isVowel(first) && !"wxY".includes(last);
}

/** A word on its way, with where its first and second region begin. */
interface Cut {
  word: string;
  readonly one: number;
  readonly two: number;
}

function plurals(cut: Cut): void {
  const { word } = cut;
  const apostrophe = /('s'|'s|')$/.exec(word)?.[0] ?? "";
  const bare = word.slice(0, word.length - apostrophe.length);
  if (bare.endsWith("sses")) cut.word = bare.slice(0, -2);
  else if (/(ied|ies)$/.test(bare)) cut.word = bare.length > 4 ? bare.slice(0, -2) : bare.slice(0, -1);
  else if (/(us|ss)$/.test(bare) || !bare.endsWith("s")) cut.word = bare;
  else cut.word = [...bare.slice(0, -2)].some(isVowel) ? bare.slice(0, -1) : bare;
}

function pasts(cut: Cut): void {
  const { word } = cut;
  const ending = /(eedly|ingly|edly|eed|ing|ed)$/.exec(word)?.[0];
  if (!ending) return;
  const bare = word.slice(0, -ending.length);
  if (ending.startsWith("eed")) {
    if (bare.length >= cut.one && !KEEP_EED.has(bare)) cut.word = `${bare}ee`;
    return;
  }
  if (ending === "ing") {
    if (KEEP_ING.has(bare)) return;
    if (bare.length === 2 && bare.endsWith("y") && !isVowel(bare[0])) {
      cut.word = `${bare[0] ?? ""}ie`;
      return;
    }
  }
  if ([...bare].some(isVowel)) cut.word = rounded(bare, cut.one);
}

/** What is left once "-ed" or "-ing" is gone: "hop(p)" and "fil(e)". */
function rounded(bare: string, one: number): string {
  if (/(at|bl|iz)$/.test(bare)) return `${bare}e`;
  if (DOUBLES.has(bare.slice(-2))) return bare.length === 3 && "aeo".includes(bare[0] ?? "-") ? bare : bare.slice(0, -1);
  return bare.length === one && endsShort(bare) ? `${bare}e` : bare;
}

function lastY(cut: Cut): void {
  const { word } = cut;
  if (word.length > 2 && /[yY]$/.test(word) && !isVowel(word[word.length - 2])) cut.word = `${word.slice(0, -1)}i`;
}

const found = (word: string, endings: readonly Ending[]): Ending | undefined =>
  endings.find(([ending]) => word.endsWith(ending));

function second(cut: Cut): void {
  const [ending, instead] = found(cut.word, SECOND) ?? [];
  if (ending === undefined || cut.word.length - ending.length < cut.one) return;
  const bare = cut.word.slice(0, -ending.length);
  if (ending === "ogi" && !bare.endsWith("l")) return;
  if (ending === "li" && !BEFORE_LI.has(bare.at(-1) ?? "")) return;
  cut.word = bare + (instead ?? "");
}

function third(cut: Cut): void {
  const [ending, instead] = found(cut.word, THIRD) ?? [];
  if (ending === undefined || cut.word.length - ending.length < (ending === "ative" ? cut.two : cut.one)) return;
  cut.word = cut.word.slice(0, -ending.length) + (instead ?? "");
}

function fourth(cut: Cut): void {
  const [ending] = found(cut.word, FOURTH) ?? [];
  if (ending === undefined || cut.word.length - ending.length < cut.two) return;
  const bare = cut.word.slice(0, -ending.length);
  if (ending !== "ion" || /[st]$/.test(bare)) cut.word = bare;
}

function fifth(cut: Cut): void {
  const bare = cut.word.slice(0, -1);
  if (cut.word.endsWith("e") && (bare.length >= cut.two || (bare.length >= cut.one && !endsShort(bare)))) cut.word = bare;
  else if (cut.word.endsWith("l") && bare.length >= cut.two && bare.endsWith("l")) cut.word = bare;
}

/** "y" at the start or after a vowel is a consonant, marked as Y meanwhile. */
const marked = (word: string): string => word.replace(/^'/, "").replace(/^y/, "Y").replace(/([aeiouy])y/g, "$1Y");

function stemmed(folded: string): string {
  const whole = WHOLE[folded];
  if (whole !== undefined && Object.hasOwn(WHOLE, folded)) return whole;
  if (folded.length < 3) return folded;
  const word = marked(folded);
  const begins = BEGINNINGS.find((each) => word.startsWith(each));
  const one = begins ? begins.length : region(word, 0);
  const cut: Cut = { word, one, two: region(word, one) };
  for (const step of [plurals, pasts, lastY, second, third, fourth, fifth]) step(cut);
  return cut.word.replaceAll("Y", "y");
}

const MOST_KEPT = 100_000;
const kept = new Map<string, string>();

/** The stem of a folded word; words with a digit come back whole. */
export function stem(word: string): string {
  const known = kept.get(word);
  if (known !== undefined) return known;
  const fresh = /\d/.test(word) ? word : stemmed(word);
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(word, fresh);
  return fresh;
}
