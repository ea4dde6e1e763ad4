/** Reads the plain arithmetic of trade formulas; knows numbers, names, + - * / **, and a few functions. */

export class FormulaError extends Error {
  override readonly name = "FormulaError";
}

const FUNCTIONS: Readonly<Record<string, (...given: number[]) => number>> = {
  max: Math.max,
  min: Math.min,
  exp: Math.exp,
  log: Math.log,
  sqrt: Math.sqrt,
  abs: Math.abs,
};

const TOKEN = /\s*(?:(\d+(?:\.\d*)?(?:[eE][+-]?\d+)?|\.\d+(?:[eE][+-]?\d+)?)|([A-Za-z_]\w*)|(\*\*|[-+*/(),]))/y;

function tokens(formula: string): readonly string[] {
  const found: string[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < formula.trimEnd().length) {
    const from = TOKEN.lastIndex;
    const match = TOKEN.exec(formula);
    if (!match) throw new FormulaError(`cannot read "${formula.slice(from)}" in "${formula}"`);
    found.push(match[1] ?? match[2] ?? match[3] ?? "");
  }
  return found;
}

/** Walks the tokens once, working out as it goes; binds as Python does: ** over unary minus over * over +. */
class Walk {
  private at = 0;

  constructor(
    private readonly words: readonly string[],
    private readonly names: Readonly<Record<string, number>>,
  ) {}

  whole(): number {
    const value = this.sum();
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
    if (!this.take(wanted)) throw new FormulaError(`"${wanted}" is missing before "${this.words[this.at] ?? "the end"}"`);
  }

  private sum(): number {
    let value = this.product();
    for (let sign = this.take("+", "-"); sign; sign = this.take("+", "-")) {
      value += sign === "+" ? this.product() : -this.product();
    }
    return value;
  }

  private product(): number {
    let value = this.signed();
    for (let sign = this.take("*", "/"); sign; sign = this.take("*", "/")) {
      value = sign === "*" ? value * this.signed() : value / this.signed();
    }
    return value;
  }

  private signed(): number {
    const sign = this.take("-", "+");
    if (sign) return sign === "-" ? -this.signed() : this.signed();
    const base = this.atom();
    return this.take("**") ? base ** this.signed() : base;
  }

  private atom(): number {
    const word = this.words[this.at];
    if (this.take("(")) {
      const value = this.sum();
      this.need(")");
      return value;
    }
    this.at += 1;
    if (word !== undefined && /^[\d.]/.test(word)) return Number(word);
    if (word !== undefined && /^\w/.test(word)) return this.take("(") ? this.call(word) : this.named(word);
    throw new FormulaError(`a number is missing before "${word ?? "the end"}"`);
  }

  private call(name: string): number {
    const act = Object.hasOwn(FUNCTIONS, name) ? FUNCTIONS[name] : undefined;
    if (!act) throw new FormulaError(`unknown function "${name}"`);
    const given = [this.sum()];
    while (this.take(",")) given.push(this.sum());
    this.need(")");
    return act(...given);
  }

  private named(name: string): number {
    const value = Object.hasOwn(this.names, name) ? this.names[name] : undefined;
    if (value === undefined) throw new FormulaError(`"${name}" is not known`);
    return value;
  }
}

/** The formula's value with the names given; raises FormulaError, also when it is no finite number. */
export function worked(formula: string, names: Readonly<Record<string, number>> = {}): number {
  const value = new Walk(tokens(formula), names).whole();
  if (!Number.isFinite(value)) throw new FormulaError(`"${formula}" gives no number`);
  return value;
}
