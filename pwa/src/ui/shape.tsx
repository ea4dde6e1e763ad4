/** Signs drawn as plain shapes, so that no meaning rests on colour. */
import type { JSX } from "preact";

const PATHS = {
  tick: "M4 13l5 5L20 6",
  cross: "M5 5l14 14M19 5L5 19",
  up: "M12 20V5M5 12l7-7 7 7",
  down: "M12 4v15M5 12l7 7 7-7",
  query: "M8 8a4 4 0 1 1 5.5 3.7c-1 .5-1.5 1.2-1.5 2.8M12 19v.5",
  alert: "M12 3L22 21H2ZM12 10v5M12 18v.5",
  link: "M3 18h4v-4H3zM10 18h4V9h-4zM17 18h4V4h-4z",
  cut: "M3 18h4v-4H3zM10 18h4V9h-4zM3 3l18 18",
  tray: "M3 13v7h18v-7M12 15V4M7 9l5-5 5 5",
  tag: "M6 21V8l4-5h4l4 5v13ZM12 8v.5M9 13h6M9 17h6",
  bins: "M3 4h18v7H3zM3 14h18v7H3zM9 7.5h6M9 17.5h6",
  tally: "M5 4v16M9.5 4v16M14 4v16M18.5 4v16M2 17L22 7",
  shop: "M3 21V9l9-5 9 5v12M7 21v-8h10v8M7 17h10",
  dot: "M12 8a4 4 0 1 0 .01 0Z",
  ring: "M12 4a8 8 0 1 0 .01 0Z",
  camera: "M3 7h4l2-3h6l2 3h4v13H3zM12 9.5a4 4 0 1 0 .01 0Z",
  part: "M9 3h6l1 3 3 1v6l-3 1-1 3H9l-1-3-3-1V7l3-1zM12 7.500a3 3 0 1 0 .01 0ZM9 21h6",
  gauge: "M3 18a9 9 0 1 1 18 0M12 18l5-7M3 18h3M18 18h3",
  pen: "M4 20l1-5L16 4l4 4L9 19Z",
  microphone: "M9 4h6v9H9ZM5 11v3h14v-3M12 14v6M8 20h8",
  back: "M20 12H5M12 5l-7 7 7 7",
  box: "M4 4h16v16H4Z",
  boxTick: "M4 4h16v16H4ZM8 12l3 3 6-7",
} as const;

export type ShapeName = keyof typeof PATHS;

export function Shape({ name }: { name: ShapeName }): JSX.Element {
  return (
    <svg viewBox="0 0 24 24" fill="none" stroke="currentColor" stroke-width="2.6" stroke-linecap="square" aria-hidden="true" focusable="false">
      <path d={PATHS[name]} />
    </svg>
  );
}
