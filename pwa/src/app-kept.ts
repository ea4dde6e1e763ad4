/** Small things being filled in, kept so that a killed tab loses none; wiped when the phone signs out. */


const OURS = "baylore.";

export function keep(name: string, value: unknown): void {
  try {
    localStorage.setItem(OURS + name, JSON.stringify(value));
  } catch (error) {
    // Storage full or forbidden: the screen works on, only a killed tab would forget it.
    if (!(error instanceof DOMException)) throw error;
  }
}

/** What was kept under the name, or null; `isRight` guards against an older form. */
export function keptValue<T>(name: string, isRight: (value: unknown) => value is T): T | null {
  const text = localStorage.getItem(OURS + name);
  if (text === null) return null;
  try {
    const value: unknown = JSON.parse(text);
    return isRight(value) ? value : null;
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

export const letGo = (name: string): void => localStorage.removeItem(OURS + name);

/** How the phone shows things says nothing of the shop, and stands on the sign-in screen too. */
const STAYS: ReadonlySet<string> = new Set(["look", "language"].map((name) => OURS + name));

export function wipeKept(): void {
  for (const name of Object.keys(localStorage)) if (name.startsWith(OURS) && !STAYS.has(name)) localStorage.removeItem(name);
}

export const isText = (value: unknown): value is string => typeof value === "string";
export const isTexts = (value: unknown): value is string[] => Array.isArray(value) && value.every(isText);
