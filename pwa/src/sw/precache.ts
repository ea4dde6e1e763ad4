/** The list of shell files, written in by the build, and the caches that hold them. */

type ShellFile = readonly [address: string, digest: string];

declare const __SHELL_FILES__: readonly ShellFile[];
declare const __SHELL_VERSION__: string;

const PREFIX = "shell-";
const FILES = __SHELL_FILES__;
const NAME = PREFIX + __SHELL_VERSION__;
const ADDRESSES = new Set(FILES.map(([address]) => address));
/** Files under assets/ carry their digest in the name, so an older cache's copy is the same. */
const HASHED = /^\/assets\//;

/** An old page may still ask for a hashed file of its own version. */
export const isShellFile = (address: string): boolean => ADDRESSES.has(address) || HASHED.test(address);

export async function install(): Promise<void> {
  const cache = await caches.open(NAME);
  await Promise.all(FILES.map(([address]) => keep(cache, address)));
}

async function keep(cache: Cache, address: string): Promise<void> {
  const known = HASHED.test(address) ? await caches.match(address) : undefined;
  if (known) return cache.put(address, known);
  const fresh = await fetch(address, { cache: "no-cache", credentials: "omit" });
  if (!fresh.ok || fresh.redirected) throw new Error(`${address} answered ${fresh.status}: not installed`);
  return cache.put(address, fresh);
}

/** The file of this version, else of an older version still in use. */
export async function kept(address: string): Promise<Response | undefined> {
  const own = await (await caches.open(NAME)).match(address);
  return own ?? caches.match(address);
}

/** Drops the caches of all other versions. */
export async function tidy(): Promise<void> {
  const names = await caches.keys();
  await Promise.all(
    names.filter((name) => name.startsWith(PREFIX) && name !== NAME).map((name) => caches.delete(name)),
  );
}
