import { describe, expect, test } from "vitest";
import { csv } from "../src/model/rows";
import { LEFT, RIGHT, across, band, line, sides, span, stairs, up } from "../src/views/failing-draw";

describe("drawings of what keeps failing", () => {
  test("values beyond the ends stay at the ends", () => {
    expect([across(-5, 0, 10), across(0, 0, 10), across(99, 0, 10)]).toEqual([LEFT, LEFT, RIGHT]);
    expect(across(3, 7, 7)).toBe(LEFT);
  });
  test("more stands higher, and nothing stands on the floor", () => {
    expect(up(10, 10, 100)).toBeLessThan(up(1, 10, 100));
    expect(up(0, 0, 100)).toBe(up(0, 10, 100));
  });
  test("a line and stairs begin where their first point is", () => {
    const points = [[0, 10], [5, 20]] as const;
    expect(line(points)).toBe("M0.0 10.0L5.0 20.0");
    expect(stairs(points)).toBe("M0.0 10.0H5.0V20.0");
    expect(line([])).toBe("");
  });
  test("a band goes out along one edge and back along the other", () => {
    expect(band([[0, 1], [4, 2]], [[0, 5], [4, 6]])).toBe("M0.0 1.0H4.0V2.0L4.0 6.0V5.0H0.0Z");
    expect(band([], [])).toBe("");
  });
  test("nine tenths of the chance lie in the span", () => {
    expect(span([0.02, 0.5, 0.4, 0.08])).toEqual([1, 3]);
    expect(span([0, 1, 0])).toEqual([1, 1]);
    expect(span([0, 0])).toBeNull();
  });
  test("a map takes the first cars and what failed on them", () => {
    const rows = [["A", "x"], ["B", "y"], ["C", "z"]] as const;
    expect(sides(rows, (row) => row, 2)).toEqual([["A", "B"], ["x", "y"]]);
  });
});

describe("a table as a file", () => {
  test("keeps commas, quotes and empty cells", () => {
    expect(csv(["a", "b"], [['say "so", please', null], [1.5, "x"]])).toBe('a,b\r\n"say ""so"", please",\r\n1.5,x\r\n');
  });
  test("never becomes a formula", () => {
    expect(csv(["a"], [["=1+1"], ["-x"]])).toBe("a\r\n'=1+1\r\n'-x\r\n");
  });
});
