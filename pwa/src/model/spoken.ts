/** Numbers said in words, as a dictated reading has them: "twelve point one volts" is "12.1 volts". */

const UNITS = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
const TEENS = ["ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"];
const TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
const VALUES: ReadonlyMap<string, number> = new Map([
  ...UNITS.map((word, at) => [word, at + 1] as const),
  ...TEENS.map((word, at) => [word, at + 10] as const),
  ...TENS.map((word, at) => [word, at * 10 + 20] as const),
  ["zero", 0],
  ["oh", 0],
]);

const unit = UNITS.join("|");
const below100 = `(?:(?:${TENS.join("|")})(?:[ -](?:${unit}))?|${TEENS.join("|")}|${unit}|zero)`;
const below1000 = `(?:(?:${unit}|\\d) hundred(?: (?:and )?${below100})?|${below100})`;
const whole = `(?:(?:${below1000}|\\d{1,3}) thousand(?: (?:and )?${below1000})?|${below1000})`;
const digit = `(?:${unit}|zero|oh|${TEENS.join("|")}|\\d)`;
const SAID = new RegExp(`(?<![\\p{L}\\p{N}])(?:(?<words>${whole})|(?<digits>\\d+))(?:(?<half> and a half)|(?: point(?<after>(?: ${digit})+)))?(?![\\p{L}\\p{N}])`, "giu");

const valueOf = (word: string): number => VALUES.get(word) ?? Number(word);

/** "four hundred and seventy" is 470; a phrase of SAID only. */
function sum(phrase: string): number {
  let [all, part] = [0, 0];
  for (const word of phrase.toLowerCase().split(/[ -]/)) {
    if (word === "hundred") part *= 100;
    else if (word === "thousand") [all, part] = [all + part * 1000, 0];
    else if (word !== "and") part += valueOf(word);
  }
  return all + part;
}

/** The text with numbers in figures; all else stays as it is. Digits said one by one stay apart: they spell something. */
export const inFigures = (text: string): string =>
  text.replace(SAID, (...given: unknown[]) => {
    const { words, digits = "", half, after } = given.at(-1) as Record<string, string | undefined>;
    const number = words ? String(sum(words)) : digits;
    if (half) return `${number}.5`;
    const places = (after ?? "").trim().split(" ").map((word) => (word ? String(valueOf(word.toLowerCase())) : "")).join("");
    return places ? `${number}.${places}` : number;
  });
