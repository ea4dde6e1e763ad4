import { describe, expect, test } from "vitest";
import { MOST_BYTES, TRIES, fitted, within } from "../src/model/picture";
import type { Try } from "../src/model/picture";

describe("the size a picture is drawn in", () => {
  test.each([
    [{ width: 4000, height: 3000 }, { width: 1600, height: 1200 }],
    [{ width: 3000, height: 4000 }, { width: 1200, height: 1600 }],
    [{ width: 640, height: 480 }, { width: 640, height: 480 }],
    [{ width: 9000, height: 2 }, { width: 1600, height: 1 }],
  ])("%o becomes %o", (size, wanted) => expect(within(size, 1600)).toEqual(wanted));
});

describe("shrinking until it fits", () => {
  const bytesOf = (perPoint: number) => async ({ longest, quality }: Try) => ({ size: Math.round(longest * longest * 0.75 * quality * perPoint), longest, quality });

  test("keeps the best that fits and goes no further", async () => {
    const made: Try[] = [];
    await fitted(async (one) => (made.push(one), { size: made.length < 3 ? MOST_BYTES + 1 : MOST_BYTES }));
    expect(made).toEqual(TRIES.slice(0, 3));
  });

  test.each([0.1, 0.3, 0.6, 1, 2, 4])("ends within bounds at %d bytes a point", async (perPoint) =>
    expect((await fitted(bytesOf(perPoint))).size).toBeLessThanOrEqual(MOST_BYTES));

  test("gives the smallest where none fits", async () =>
    expect(await fitted(bytesOf(1), 10)).toMatchObject({ longest: 480 }));

  test("each try asks for less than the one before", () => {
    const cost = TRIES.map(({ longest, quality }) => longest * longest * quality);
    expect(cost).toEqual([...cost].sort((a, b) => b - a));
    expect(new Set(cost).size).toBe(cost.length);
  });
});
