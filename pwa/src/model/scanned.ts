/** The VIN in what a barcode says, and when it may be believed. */

import { readVin } from "./vin";
import type { VinRead } from "./vin";

const LENGTH = 17;

/** One word of 17 signs, letters and figures mixed; labels of imported cars put an I before it. */
function candidates(scanned: string): readonly string[] {
  const words = scanned.toUpperCase().split(/[^A-Z0-9]+/);
  const bare = words.map((word) => (word.length === LENGTH + 1 && word.startsWith("I") ? word.slice(1) : word));
  return bare.filter((word) => word.length === LENGTH && /[A-Z]/.test(word) && /\d/.test(word));
}

/** The first VIN that can be; one whose check digit holds goes before one that has none. */
export function vinIn(scanned: readonly string[], now: Date): VinRead | null {
  const read = scanned.flatMap(candidates).map((word) => readVin(word, now)).filter(({ problem }) => problem === "");
  return read.find(({ sure }) => sure) ?? read[0] ?? null;
}

/** Takes what each look at the picture reads; gives the VIN once its check digit holds, or once it was read twice running. */
export function agreeing(now: Date): (scanned: readonly string[]) => string | null {
  let last = "";
  return (scanned) => {
    const read = vinIn(scanned, now);
    if (!read) return null;
    const believed = read.sure || read.vin === last;
    last = read.vin;
    return believed ? read.vin : null;
  };
}
