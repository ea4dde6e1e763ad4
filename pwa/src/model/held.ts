/** A note beside the store that something was kept in it: when the store is empty and the note is not, it was lost. */

export interface Held {
  readonly member: string;
  readonly unsent: number;
}

const NAME = "baylore_held";
const YEAR_S = 31_536_000;

/** The note as a cookie, which a browser that clears stores leaves alone; null takes it away. */
export const heldCookie = (held: Held | null): string =>
  `${NAME}=${held ? encodeURIComponent(JSON.stringify(held)) : ""}; path=/; samesite=strict; max-age=${held ? YEAR_S : 0}`;

/** The note among the page's cookies; null without one, or where it cannot be read. */
export function heldIn(cookies: string): Held | null {
  const found = cookies.split("; ").find((each) => each.startsWith(`${NAME}=`))?.slice(NAME.length + 1);
  if (!found) return null;
  try {
    const { member, unsent } = JSON.parse(decodeURIComponent(found)) as Partial<Held>;
    return typeof member === "string" && typeof unsent === "number" ? { member, unsent } : null;
  } catch (error) {
    if (error instanceof SyntaxError || error instanceof URIError) return null;
    throw error;
  }
}
