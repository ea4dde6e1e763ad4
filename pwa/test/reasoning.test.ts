import { expect, test } from "vitest";
import { advise } from "../src/reason/advise";
import type { Memory } from "../src/reason/memory";
import type { Advice } from "../src/wire";
import { demoCopy, engineOf, memoryOf } from "./copy";
import type { Answer, Asked } from "./copy";

const copy = demoCopy();
const engine = engineOf(copy);
const memory = memoryOf(engine, copy.cases);


interface Answered {
  readonly asked: Asked;
  readonly mine: Advice;
}

const answeredOf =
  (shop: Memory) =>
  (asked: Asked): Answered => ({
    asked,
    mine: advise({ body: { ...asked.q, limit: 3 }, asker: { skill: asked.q.skill, rights: asked.q.rights ?? [] }, without: asked.without }, engine, shop),
  });
const answers = copy.asked.map(answeredOf(memory));
const beside = copy.beside.map(answeredOf(memory));

type Agrees = (mine: Advice, theirs: Answer) => boolean;

const sameSet = (mine: readonly string[], theirs: readonly string[]): boolean => mine.length === theirs.length && mine.every((each) => theirs.includes(each));
const same = (mine: unknown, theirs: unknown): boolean => JSON.stringify(mine) === JSON.stringify(theirs);
const near = (mine: number, theirs: number): boolean => Math.abs(mine - theirs) <= 1e-3 * Math.max(Math.abs(theirs), 1);

const COMPARED: Readonly<Record<string, Agrees>> = {
  "first cause": (mine, { causes }) => mine.causes[0]?.cause === causes[0]?.[0],
  "its chance within 2 %": (mine, { causes }) => Math.abs((mine.causes[0]?.probability ?? 0) - (causes[0]?.[1] ?? 0)) <= 0.02,
  "first three causes": (mine, { causes }) => sameSet(mine.causes.slice(0, 3).map(({ cause }) => cause), causes.map(([id]) => id)),
  "first test": (mine, { tests }) => mine.tests[0]?.test === tests[0]?.[0],
  "first three tests": (mine, { tests }) => sameSet(mine.tests.slice(0, 3).map(({ test }) => test), tests.map(([id]) => id)),
  "next step": (mine, { next }) => mine.next.do === next[0] && (mine.next.test ?? mine.next.cause ?? null) === next[1],
  "why the next step": (mine, { because }) => mine.next.why === because,
  "first three cases": (mine, { cases }) => sameSet(mine.cases.slice(0, 3).map((one) => one.case), cases.map(([id]) => id)),
  "why these cases": (mine, { cases, why }) => mine.cases.every((one) => same(one.why, why[cases.findIndex(([id]) => id === one.case)])),
  "what moved the first": (mine, { moved }) => same(mine.causes[0]?.moved.map(({ by }) => by), moved),
  "what fell": (mine, { dropped }) => same(mine.dropped.map(({ cause, by }) => [cause, by]), dropped),
  conflicts: (mine, { conflicts }) => same(mine.conflicts, conflicts),
  "ruled out before": (mine, { ruled_out }) => same(mine.ruled_out, ruled_out),
  "questions for the call": (mine, { questions }) => same(mine.questions, questions),
  "readings and verdicts": (mine, { readings }) => same(mine.readings.map(({ quantity, verdict, good }) => [quantity, verdict, good]), readings.map(([quantity, , , verdict, good]) => [quantity, verdict, good])),
  "values of readings": (mine, { readings }) => mine.readings.every(({ value }, n) => near(value ?? 0, readings[n]?.[1] ?? NaN)),
  "what was read as what": (mine, { read_as }) => same(mine.read_as.map(({ typed, read, kind }) => [typed, read, kind]), read_as),
  cautions: (mine, { cautions }) => same(mine.cautions.map((each) => each.split(".")[0]), cautions),
  "what such jobs cost": (mine, { price }) => (price && mine.price ? near(mine.price.middle, price.middle) && mine.price.cases === price.cases : mine.price === price),
  "the car and its origins": (mine, { car }) => same(sorted(mine.car?.origins ?? {}), sorted(car.origins)) && same(mine.car?.engines, car.engines),
};

const sorted = (record: Readonly<Record<string, string>>): readonly (readonly [string, string])[] => Object.entries(record).sort();

const shareOf = (name: string, among: readonly Answered[] = answers): number => among.filter(({ mine, asked }) => COMPARED[name]!(mine, asked.a)).length / among.length;

test("the phone's own answer agrees with the service's on one copy", () => {
  const kinds = [...new Set([...answers, ...beside].map(({ asked }) => asked.kind))].sort();
  const cell = (share: number): string => `${(100 * share).toFixed(1)}`.padStart(7);
  const of = (kind: string): readonly Answered[] => [...answers, ...beside].filter(({ asked }) => asked.kind === kind);
  const rows = Object.keys(COMPARED).map((name) => `${name.padEnd(24)}${cell(shareOf(name))}${kinds.map((kind) => cell(shareOf(name, of(kind)))).join(" ")}`);
  console.log([`${answers.length} questions, % the same`, `${" ".repeat(24)}    all ${kinds.join(" ")}`, ...rows].join("\n"));
  for (const name of Object.keys(COMPARED)) expect.soft(shareOf(name), name).toBeGreaterThanOrEqual(name === "first three cases" || name === "why the next step" ? 0.9 : 0.95);
});

test("it agrees too where results contradict each other and readings follow from others", () => {
  const odd = ["conflicts", "readings and verdicts", "values of readings", "ruled out before", "first cause", "why these cases"];
  for (const name of odd) expect.soft(shareOf(name, beside), name).toBeGreaterThanOrEqual(0.95);
  expect(beside.filter(({ asked }) => asked.a.conflicts.length).length).toBeGreaterThan(20);
  expect(new Set(beside.flatMap(({ asked }) => asked.a.readings.filter(([, , , , , of]) => of.length).map(([quantity]) => quantity))).size).toBeGreaterThan(7);
});

test("it agrees too where much is filed under systems of the shop's own", () => {
  const shop = memoryOf(engine, copy.cases.map((one) => ({ ...one, ...copy.refiled.cases[one.id] })));
  const filed = copy.refiled.asked.map(answeredOf(shop));
  for (const name of ["first cause", "its chance within 2 %", "first three causes", "first three cases", "next step"]) expect.soft(shareOf(name, filed), name).toBeGreaterThanOrEqual(0.95);
  const chances = filed.flatMap(({ mine, asked }) => mine.cases.slice(0, 3).map((one, n) => Math.abs(one.chance - asked.a.cases[n]![1])));
  expect(chances.filter((apart) => apart > 1e-3).length).toBeLessThanOrEqual(0.05 * chances.length);
  const own = filed.filter(({ mine }) => mine.cases.some((one) => one.cause?.startsWith("own.")));
  expect(own.length).toBeGreaterThan(20);
});

test.each([
  ["no arranca", "won't start", "cranks_no_start"],
  ["Ruido al frenar", "noise when braking", "brake_squeal"],
])("without signal %s is read as %s, and told so", (complaint, read, symptom) => {
  const advice = advise({ body: { complaint }, asker: { skill: 4, rights: [] } }, engine, memory);
  expect(advice.read_as.find(({ typed }) => typed === complaint)).toMatchObject({ read, kind: "translated" });
  expect(advice.symptoms[0]?.symptom).toBe(symptom);
});
