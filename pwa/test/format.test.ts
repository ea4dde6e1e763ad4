import { expect, test } from "vitest";
import { ago, clock, day, dayAndTime, minutes, money, percent } from "../src/model/format";

const plain = (text: string): string => text.replaceAll(/[\u00a0\u202f]/g, " ");

test.each([
  [24.5, "USD", "en-US", "$24.50"],
  [1234, "USD", "en-US", "$1,234"],
  [1234.5, "EUR", "de-DE", "1.234,50 €"],
  [9, "JPY", "en-US", "¥9"],
  [12, "??", "en-US", "12 ??"],
])("%d %s is shown in %s as %s", (amount, currency, locale, text) =>
  expect(plain(money(amount, currency, locale))).toBe(text),
);

test("money not known is left empty", () => expect(money(null, "EUR")).toBe(""));

test.each([
  [0, "0 min"],
  [0.4, "under 1 min"],
  [25, "25 min"],
  [59.7, "1 h"],
  [85, "1 h 25 min"],
  [120, "2 h"],
])("%d minutes are %s", (value, text) => expect(minutes(value)).toBe(text));

test("a day follows the shop's clock, not the server's", () => {
  expect(day("2026-03-11T23:30:00Z", "en-GB", "Europe/Riga")).toBe("12 Mar 2026");
  expect(dayAndTime("2026-03-11T09:20:00Z", "en-GB", "UTC")).toBe("11 Mar 2026, 09:20");
});

test.each([null, "", "soon"])("%j is no day", (when) => expect(day(when)).toBe(""));

test.each([
  ["2026-03-11T09:19:50Z", "just now"],
  ["2026-03-11T09:15:00Z", "5 minutes ago"],
  ["2026-03-11T06:20:00Z", "3 hours ago"],
  ["2026-03-10T09:00:00Z", "yesterday"],
  ["2025-03-11T09:20:00Z", "11 Mar 2025"],
])("%s is %s", (when, text) => expect(ago(when, new Date("2026-03-11T09:20:00Z"), "en-GB")).toBe(text));

test.each([
  [0, "0\u00a0%"],
  [0.004, "under 1\u00a0%"],
  [0.714, "71\u00a0%"],
  [0.997, "over 99\u00a0%"],
  [1, "100\u00a0%"],
])("a chance of %d is %s", (chance, text) => expect(percent(chance)).toBe(text));

test.each([
  [-3, "0:00"],
  [7, "0:07"],
  [3750, "1:02:30"],
])("%d seconds on the clock are %s", (value, text) => expect(clock(value)).toBe(text));
