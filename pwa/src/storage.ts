/** What the browser allows this site to keep. */

/** Asks the browser not to throw the notes away; null where it cannot be asked. */
export async function keepStorage(): Promise<boolean | null> {
  if (!globalThis.navigator?.storage?.persist) return null;
  return (await navigator.storage.persisted()) || navigator.storage.persist();
}

/** What the browser counts for this site, and what it allows; null where it does not say. */
export async function storageUse(): Promise<{ readonly bytes: number | null; readonly quota: number | null }> {
  const told = await globalThis.navigator?.storage?.estimate?.();
  return { bytes: told?.usage ?? null, quota: told?.quota ?? null };
}
