/** One holder of a name at a time. */

/** The part of navigator.locks that is used. */
export interface Locks {
  request<T>(name: string, act: () => Promise<T>): Promise<T>;
}

/** Tabs of one browser send one at a time; without Web Locks (no certificate) at least this page does. */
export function webLocks(): Locks {
  if (globalThis.navigator?.locks) return { request: async (name, act) => navigator.locks.request(name, act) };
  let last: Promise<unknown> = Promise.resolve();
  return {
    request<T>(_name: string, act: () => Promise<T>): Promise<T> {
      const turn = last.then(act, act);
      last = turn.catch(() => undefined);
      return turn;
    },
  };
}
