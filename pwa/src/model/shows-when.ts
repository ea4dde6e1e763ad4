/** The conditions in which a fault may show: the engine's own list, kept equal by a test. */

export interface ShowsWhen {
  readonly id: string;
  readonly title: string;
}

export const SHOWS_WHEN: readonly ShowsWhen[] = [
  { id: "cold", title: "Cold, just started" },
  { id: "hot", title: "Hot, after a drive" },
  { id: "cold_day", title: "Cold day or frost" },
  { id: "hot_day", title: "Hot day or sun" },
  { id: "rain", title: "Rain, wash or damp" },
  { id: "standing", title: "After standing for hours" },
  { id: "start", title: "At key on or start" },
  { id: "idle", title: "Standing at idle" },
  { id: "slow", title: "Slow, pulling away, shifting" },
  { id: "driving", title: "Driving along" },
  { id: "fast", title: "Fast, on the motorway" },
  { id: "load", title: "Accelerating, uphill, loaded" },
  { id: "bumps", title: "Over bumps" },
  { id: "turning", title: "Turning" },
  { id: "braking", title: "Braking" },
  { id: "aircon", title: "With the A/C on" },
  { id: "electrics", title: "With lamps and heaters on" },
];
