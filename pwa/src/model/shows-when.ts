/** The conditions in which a fault may show: the engine's own list, kept equal by a test; their words are texts. */
export const SHOWS_WHEN = [
  "cold", "hot", "cold_day", "hot_day", "rain", "standing", "start", "idle", "slow",
  "driving", "fast", "load", "bumps", "turning", "braking", "aircon", "electrics",
] as const;
