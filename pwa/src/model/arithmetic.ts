/** Works out the plain arithmetic of trade formulas: + - * / **, comparisons, `a if b else c`, a few functions. */

export class FormulaError extends Error {
  override readonly name = "FormulaError";
}

export type Value = number | string;
export type Names = Readonly<Record<string, Value>>;

const FUNCTIONS: Readonly<Record<string, (...given: number[]) => number>> = {
  max: Math.max,
  min: Math.min,
  exp: Math.exp,
  log: Math.log,
  abs: Math.abs,
};
const WORDS = new Set(["if", "else"]);
const SIGNS = ["==", "!=", "<=", ">=", "<", ">"] as const;

const TOKEN =
  /\s*(?:(\d+(?:\.\d*)?(?:[eE][+-]?\d+)?|\.\d+(?:[eE][+-]?\d+)?)|([A-Za-z_]\w*)|('[^']*'|"[^"]*")|(\*\*|[=!<>]=|[-+*/(),<>]))/y;

function tokens(formula: string): readonly string[] {
  const found: string[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < formula.trimEnd().length) {
    const from = TOKEN.lastIndex;
    const match = TOKEN.exec(formula);
    if (!match) throw new FormulaError(`cannot read "${formula.slice(from)}" in "${formula}"`);
    found.push(match[0].trim());
  }
  return found;
}

const isName = (word: string): boolean => /^[A-Za-z_]/.test(word) && !WORDS.has(word);

/** The names a formula uses, functions apart; a number uses none. */
export const namesIn = (formula: Value | null): readonly string[] =>
  typeof formula !== "string"
    ? []
    : [...new Set(tokens(formula).filter((word) => isName(word) && !Object.hasOwn(FUNCTIONS, word)))];

/** Worked out only when asked, so that a branch not taken may lack its names. */
type Thunk = () => Value;

function number(value: Value): number {
  if (typeof value === "number") return value;
  throw new FormulaError(`"${value}" is no number`);
}

function compared(sign: string, a: Value, b: Value): boolean {
  if (sign === "==") return a === b;
  if (sign === "!=") return a !== b;
  const [one, two] = [number(a), number(b)];
  if (sign === "<") return one < two;
  if (sign === ">") return one > two;
  return sign === "<=" ? one <= two : one >= two;
}

/** Reads the tokens once; binds as Python does: ** over unary minus over * over + over comparison over if. */
class Reader {
  private at = 0;

  constructor(
    private readonly words: readonly string[],
    private readonly names: Names,
  ) {}

  whole(): Thunk {
    const value = this.choice();
    if (this.at < this.words.length) throw new FormulaError(`"${this.words[this.at]}" is out of place`);
    return value;
  }

  private take(...wanted: readonly string[]): string | null {
    const word = this.words[this.at];
    if (word === undefined || !wanted.includes(word)) return null;
    this.at += 1;
    return word;
  }

  private need(wanted: string): void {
    if (!this.take(wanted))
      throw new FormulaError(`"${wanted}" is missing before "${this.words[this.at] ?? "the end"}"`);
  }

  private choice(): Thunk {
    const yes = this.comparison();
    if (!this.take("if")) return yes;
    const test = this.comparison();
    this.need("else");
    const no = this.choice();
    return () => (test() ? yes() : no());
  }

  private comparison(): Thunk {
    const left = this.sum();
    const sign = this.take(...SIGNS);
    if (!sign) return left;
    const right = this.sum();
    return () => (compared(sign, left(), right()) ? 1 : 0);
  }

  private sum(): Thunk {
    let value = this.product();
    for (let sign = this.take("+", "-"); sign; sign = this.take("+", "-")) {
      const [left, right, by] = [value, this.product(), sign === "+" ? 1 : -1];
      value = () => number(left()) + by * number(right());
    }
    return value;
  }

  private product(): Thunk {
    let value = this.signed();
    for (let sign = this.take("*", "/"); sign; sign = this.take("*", "/")) {
      const [left, right, times] = [value, this.signed(), sign === "*"];
      value = () => (times ? number(left()) * number(right()) : number(left()) / number(right()));
    }
    return value;
  }

  private signed(): Thunk {
    const sign = this.take("-", "+");
    if (sign) {
      const value = this.signed();
      return () => (sign === "-" ? -number(value()) : number(value()));
    }
    const base = this.atom();
    if (!this.take("**")) return base;
    const power = this.signed();
    return () => number(base()) ** number(power());
  }

  private atom(): Thunk {
    const word = this.words[this.at] ?? "";
    if (this.take("(")) {
      const value = this.choice();
      this.need(")");
      return value;
    }
    this.at += 1;
    if (/^[\d.]/.test(word)) return () => Number(word);
    if (/^['"]/.test(word)) return () => word.slice(1, -1);
    if (isName(word)) return this.take("(") ? this.call(word) : () => this.named(word);
    throw new FormulaError(`a number is missing before "${word || "the end"}"`);
  }

  private call(name: string): Thunk {
    const act = Object.hasOwn(FUNCTIONS, name) ? FUNCTIONS[name] : undefined;
    if (!act) throw new FormulaError(`unknown function "${name}"`);
    const given = [this.choice()];
    while (this.take(",")) given.push(this.choice());
    this.need(")");
    return () => act(...given.map((value) => number(value())));
  }

  private named(name: string): Value {
    const value = Object.hasOwn(this.names, name) ? this.names[name] : undefined;
    if (value === undefined) throw new FormulaError(`"${name}" is not known`);
    return value;
  }
}

/** The formula's value with the names given; raises FormulaError, also when it is no finite number. */
export function worked(formula: Value, names: Names = {}): number {
  if (typeof formula === "number") return formula;
  const value = number(new Reader(tokens(formula), names).whole()());
  if (!Number.isFinite(value)) throw new FormulaError(`"${formula}" gives no number`);
  return value;
}
