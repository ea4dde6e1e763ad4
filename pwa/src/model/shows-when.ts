/** The conditions in which a fault may show: the engine's own list, kept equal by a test. */

export interface ShowsWhen {
  readonly id: string;
  readonly title: string;
}

export const SHOWS_WHEN: readonly ShowsWhen[] = [
  { id: "cold", title: "Cold" },
  { id: "hot", title: "Hot" },
];
