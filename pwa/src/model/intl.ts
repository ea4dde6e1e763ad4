/** Formatters are dear to make and cheap to use: one of each kind is kept. */

const kept = new Map<string, unknown>();

function one<F>(kind: string, locale: string | undefined, options: object, make: () => F): F {
  const key = `${kind} ${locale ?? ""} ${JSON.stringify(options)}`;
  const known = kept.get(key) as F | undefined;
  if (known !== undefined) return known;
  const made = make();
  kept.set(key, made);
  return made;
}

export const numbers = (locale: string | undefined, options: Intl.NumberFormatOptions = {}): Intl.NumberFormat =>
  one("numbers", locale, options, () => new Intl.NumberFormat(locale, options));

export const dates = (locale: string | undefined, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat =>
  one("dates", locale, options, () => new Intl.DateTimeFormat(locale, options));

export const spans = (locale: string | undefined): Intl.RelativeTimeFormat =>
  one("spans", locale, {}, () => new Intl.RelativeTimeFormat(locale, { numeric: "auto" }));
