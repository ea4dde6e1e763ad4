/** Trouble codes: the systems they point at, and how much a shared one says. */

import type { Lists } from "../wire-reasoning";

export interface Codes {
  readonly hints: (code: string) => readonly string[];
  readonly common: (code: string) => boolean;
  /** How much sharing a code says that `seen` of `cases` hold. */
  readonly rarity: (code: string, seen: number, cases: number) => number;
  readonly lowBattery: (codes: readonly string[]) => boolean;
}

/** The canonical form of a typed code; null for what is none. */
export function canonicalCode(text: string): string | null {
  const bare = text.normalize("NFKC").toLowerCase().replace(/[\s_.()]+/g, "").replace(/^(.)-/, "$1");
  const shape = /^([pcbu])([0-3o][0-9a-fo]{3})(?:[-:]?([0-9a-f]{2}))?$/;
  const found = shape.exec(bare) ?? shape.exec(bare.replaceAll("-", ""));
  return found ? `${found[1] ?? ""}${(found[2] ?? "").replaceAll("o", "0")}`.toUpperCase() : null;
}

function isGeneric(code: string): boolean {
  if (code.startsWith("P")) return "02".includes(code[1] ?? "-") || (code[1] === "3" && "456789ABCDEF".includes(code[2] ?? "-"));
  return code[1] === "0" || (code.startsWith("U") && code[1] === "3");
}

export function codesOf({ codes }: Lists): Codes {
  const [listed, low] = [new Set(codes.common), new Set(codes.low_voltage)];
  const common = (code: string): boolean => listed.has(code) || /^U0[01]/.test(code);
  return {
    common,
    hints(code) {
      if (!code.startsWith("P")) return codes.by_letter[code[0] ?? ""] ?? [];
      const third = code[2] ?? "";
      return isGeneric(code) || /\d/.test(third) ? (codes.powertrain[third] ?? ["network"]) : [];
    },
    rarity(code, seen, cases) {
      const held = Math.min(Math.max(seen, 0), Math.max(cases, 0));
      const weight = Math.log((cases + 1) / (held + 0.5) + 1) / Math.log((cases + 1) / 0.5 + 1);
      return weight * (common(code) ? 0.25 : 1);
    },
    lowBattery: (found) => found.some((code) => low.has(code)) || found.filter((code) => code.startsWith("U0")).length >= 3,
  };
}
