/** How far a picture is shrunk before it is kept: what a screen can show and a poor signal can carry. */

interface Size {
  readonly width: number;
  readonly height: number;
}

export interface Try {
  /** Longest side in pixels. */
  readonly longest: number;
  /** JPEG quality, 0 to 1. */
  readonly quality: number;
}

/** The largest a kept picture may be, in bytes. */
export const MOST_BYTES = 500_000;

/** From the best on down: first the quality gives way, then the size. */
export const TRIES: readonly Try[] = [
  { longest: 1600, quality: 0.8 },
  { longest: 1600, quality: 0.65 },
  { longest: 1600, quality: 0.5 },
  { longest: 1200, quality: 0.6 },
  { longest: 1200, quality: 0.45 },
  { longest: 900, quality: 0.5 },
  { longest: 640, quality: 0.5 },
  { longest: 480, quality: 0.4 },
];

/** The size with its longest side at most `longest`; never larger than it was, never without a pixel. */
export function within({ width, height }: Size, longest: number): Size {
  const scale = Math.min(1, longest / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

/** The first try whose result is small enough, else the last one's. */
export async function fitted<T extends { readonly size: number }>(draw: (one: Try) => Promise<T>, most = MOST_BYTES): Promise<T> {
  let result: T | null = null;
  for (const one of TRIES) {
    result = await draw(one);
    if (result.size <= most) return result;
  }
  if (!result) throw new RangeError("there is no try to make a picture by");
  return result;
}
