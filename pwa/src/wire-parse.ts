/** Small careful parsers: unknown in, typed value out, or an error that names the place. */

export type Parser<T> = (value: unknown, at: string) => T;
export type Parsed<P> = P extends Parser<infer T> ? T : never;

export class WireError extends Error {
  constructor(
    readonly at: string,
    wanted: string,
    got: unknown,
  ) {
    super(`${at || "answer"}: expected ${wanted}, got ${shown(got)}`);
    this.name = "WireError";
  }
}

function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

export type JsonObject = Readonly<Record<string, unknown>>;

export const isObject = (value: unknown): value is JsonObject =>
  typeof value === "object" && value !== null && !Array.isArray(value);

export const text: Parser<string> = (value, at) => {
  if (typeof value !== "string") throw new WireError(at, "text", value);
  return value;
};

export const number: Parser<number> = (value, at) => {
  if (typeof value !== "number" || !Number.isFinite(value)) throw new WireError(at, "a number", value);
  return value;
};

export const flag: Parser<boolean> = (value, at) => {
  if (typeof value !== "boolean") throw new WireError(at, "true or false", value);
  return value;
};

export const anything: Parser<unknown> = (value) => value;

export const oneOf =
  <const T extends string>(...words: readonly T[]): Parser<T> =>
  (value, at) => {
    const found = words.find((word) => word === value);
    if (found === undefined) throw new WireError(at, `one of ${words.join(", ")}`, value);
    return found;
  };

export const list =
  <T>(item: Parser<T>): Parser<readonly T[]> =>
  (value, at) => {
    if (!Array.isArray(value)) throw new WireError(at, "a list", value);
    return value.map((one, index) => item(one, `${at}[${index}]`));
  };

export const record =
  <T>(item: Parser<T>): Parser<Readonly<Record<string, T>>> =>
  (value, at) => {
    if (!isObject(value)) throw new WireError(at, "an object", value);
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, item(one, `${at}.${key}`)]));
  };

/** Null and absent both become null. */
export const orNull =
  <T>(inner: Parser<T>): Parser<T | null> =>
  (value, at) =>
    value === undefined || value === null ? null : inner(value, at);

/** Null and absent both become `standing`. */
export const or =
  <T>(inner: Parser<T>, standing: T): Parser<T> =>
  (value, at) =>
    value === undefined || value === null ? standing : inner(value, at);

/** The first form that fits; the last one's error when none does. */
export const either =
  <A, B>(first: Parser<A>, second: Parser<B>): Parser<A | B> =>
  (value, at) => {
    try {
      return first(value, at);
    } catch (error) {
      if (error instanceof WireError) return second(value, at);
      throw error;
    }
  };

type Fields = Readonly<Record<string, Parser<unknown>>>;
type Shape<F extends Fields> = { readonly [K in keyof F]: Parsed<F[K]> };

/** The named fields; others are left out, so that a newer service can say more. */
export const object =
  <F extends Fields>(fields: F): Parser<Shape<F>> =>
  (value, at) => {
    if (!isObject(value)) throw new WireError(at, "an object", value);
    const parts = Object.entries(fields).map(([key, parse]) => [key, parse(value[key], at ? `${at}.${key}` : key)]);
    return Object.fromEntries(parts) as Shape<F>;
  };

/** Reads a whole body: `read(parseCase, body)`. Raises WireError. */
export const read = <T>(parse: Parser<T>, body: unknown): T => parse(body, "");
