import { expect, test } from "vitest";
import { advise } from "../src/reason/advise";
import type { Advice } from "../src/wire";
import { demoCopy, engineOf, memoryOf } from "./copy";
import type { Asked } from "./copy";

const copy = demoCopy();
const engine = engineOf(copy);
const memory = memoryOf(engine, copy.cases);

const answers = copy.asked.map((asked) => ({
  asked,
  mine: advise({ body: { ...asked.q, limit: 3 }, asker: { skill: asked.q.skill, rights: asked.q.rights ?? [] }, without: asked.without }, engine, memory),
}));

type Agrees = (mine: Advice, theirs: Asked["a"]) => boolean;

const sameSet = (mine: readonly string[], theirs: readonly string[]): boolean => mine.length === theirs.length && mine.every((each) => theirs.includes(each));

const COMPARED: Readonly<Record<string, Agrees>> = {
  "first cause": (mine, { causes }) => mine.causes[0]?.cause === causes[0]?.[0],
  "its chance within 2 %": (mine, { causes }) => Math.abs((mine.causes[0]?.probability ?? 0) - (causes[0]?.[1] ?? 0)) <= 0.02,
  "first three causes": (mine, { causes }) => sameSet(mine.causes.slice(0, 3).map(({ cause }) => cause), causes.map(([id]) => id)),
  "first test": (mine, { tests }) => mine.tests[0]?.test === tests[0]?.[0],
  "first three tests": (mine, { tests }) => sameSet(mine.tests.slice(0, 3).map(({ test }) => test), tests.map(([id]) => id)),
  "next step": (mine, { next }) => mine.next.do === next[0] && (mine.next.test ?? mine.next.cause ?? null) === next[1],
  "first three cases": (mine, { cases }) => sameSet(mine.cases.slice(0, 3).map((one) => one.case), cases.map(([id]) => id)),
};

const shareOf = (agrees: Agrees, among = answers): number => among.filter(({ mine, asked }) => agrees(mine, asked.a)).length / among.length;

test("the phone's own answer agrees with the service's on one copy", () => {
  const kinds = [...new Set(copy.asked.map(({ kind }) => kind))].sort();
  const cell = (share: number): string => `${(100 * share).toFixed(1)}`.padStart(7);
  const rows = Object.entries(COMPARED).map(([name, agrees]) => `${name.padEnd(24)}${cell(shareOf(agrees))}${kinds.map((kind) => cell(shareOf(agrees, answers.filter(({ asked }) => asked.kind === kind)))).join(" ")}`);
  console.log([`${answers.length} questions, % the same`, `${" ".repeat(24)}    all ${kinds.join(" ")}`, ...rows].join("\n"));
  expect(shareOf(COMPARED["first cause"]!)).toBeGreaterThanOrEqual(0.95);
  expect(shareOf(COMPARED["first test"]!)).toBeGreaterThanOrEqual(0.95);
  expect(shareOf(COMPARED["first three cases"]!)).toBeGreaterThanOrEqual(0.9);
});
