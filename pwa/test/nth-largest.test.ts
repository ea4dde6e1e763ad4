import { expect, test } from "vitest";
import { nthLargest } from "../src/reason/nth-largest";

/** Numbers that repeat, in an order that looks like none. */
const many = (count: number, kinds: number): Float64Array => Float64Array.from({ length: count }, (_, n) => (n * 7919) % kinds);

test.each([[1, 1], [1000, 7], [1000, 1000], [999, 2]])("of %i numbers of %i kinds it is the one a sort would put there", (count, kinds) => {
  const numbers = many(count, kinds);
  const sorted = numbers.slice().sort().reverse();
  for (const nth of [1, 2, 200, count].filter((each) => each <= count)) expect(nthLargest(numbers, nth)).toBe(sorted[nth - 1]);
});

test("of fewer than asked for it is the least, and of none 0", () => {
  expect(nthLargest(Float64Array.of(3, 1, 2), 5)).toBe(1);
  expect(nthLargest(new Float64Array(0), 5)).toBe(0);
});
