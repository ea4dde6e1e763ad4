/** A case as it is laid up: fields that hold what an empty one holds are left out, in its steps too. */

import { NO_VEHICLE, parseCase, parsePartStep, parseReadingStep, parseRepairStep, parseTestStep, read } from "../wire";
import type { Case } from "../wire";

type Plain = Readonly<Record<string, unknown>>;

const EMPTY = { ...read(parseCase, { id: "", state: "closed", revision: 0, complaint: "" }), vehicle: NO_VEHICLE } as unknown as Plain;
const STEPS: Readonly<Record<string, Plain>> = {
  tests: read(parseTestStep, { id: "", test: "", outcome: "" }),
  readings: read(parseReadingStep, { id: "", quantity: "", value: 0, unit: "" }),
  parts: read(parsePartStep, { id: "", component: "", source: "maker" }),
  repairs: read(parseRepairStep, { id: "", cause: "", result: "no change" }),
};
const INSIDE = ["vehicle", "labour", "cost"] as const;

const same = (a: unknown, b: unknown): boolean => a === b || (typeof a === "object" && JSON.stringify(a) === JSON.stringify(b));
const without = (value: Plain, empty: Plain): Plain => Object.fromEntries(Object.entries(value).filter(([name, held]) => !same(held, empty[name])));

export interface PackedCase {
  readonly id: string;
  readonly packed: Plain;
}

export function packedCase(file: Case): PackedCase {
  const packed: Record<string, unknown> = { ...without(file as unknown as Plain, EMPTY) };
  for (const name of INSIDE) if (packed[name]) packed[name] = without(packed[name] as Plain, EMPTY[name] as Plain);
  for (const [kind, empty] of Object.entries(STEPS)) {
    const steps = packed[kind] as readonly Plain[] | undefined;
    if (steps) packed[kind] = steps.map((step) => without(step, empty));
  }
  return { id: file.id, packed };
}

/** A case laid up before there was packing comes back as it is. */
export function unpackedCase(stored: PackedCase | Case): Case {
  if (!("packed" in stored)) return stored;
  const whole: Record<string, unknown> = { ...EMPTY, ...stored.packed };
  for (const name of INSIDE) whole[name] = { ...(EMPTY[name] as Plain), ...(whole[name] as Plain) };
  for (const [kind, empty] of Object.entries(STEPS)) whole[kind] = (whole[kind] as readonly Plain[]).map((step) => ({ ...empty, ...step }));
  return whole as unknown as Case;
}
