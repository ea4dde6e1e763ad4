/** Strip on top, four places at the thumb; what is unsent and whether there is signal stay in sight. */
import type { ComponentChildren, JSX } from "preact";

import { Shape, type ShapeName } from "./shape";

export interface StripProps {
  title: string;
  back?: string;
  online: boolean;
  unsent: number;
  parked: number;
}

function signalWords(online: boolean, unsent: number, parked: number): string {
  if (parked > 0) return `${parked} refused`;
  if (unsent > 0) return `${unsent} unsent`;
  return online ? "All sent" : "Offline";
}

export function Strip({ title, back, online, unsent, parked }: StripProps): JSX.Element {
  const words = signalWords(online, unsent, parked);
  const spoken = `${words}. ${online ? "Connected" : "No connection"}, ${unsent} unsent, ${parked} refused. Open the list.`;
  return (
    <header class="strip">
      <div class="strip-left">
        {back && <a class="back" href={back} aria-label="Back"><Shape name="back" /></a>}
        <h1 tabIndex={-1}>{title}</h1>
      </div>
      <a class="mark" href="#/shop" aria-label={spoken}>
        <span class="mark-words">
          {!online && words !== "Offline" && <span>Offline</span>}
          <span data-unsent={unsent}>{words}</span>
        </span>
        <Shape name={online ? (unsent + parked > 0 ? "tray" : "link") : "cut"} />
      </a>
    </header>
  );
}

const PLACES: readonly { place: string; words: string; shape: ShapeName }[] = [
  { place: "ask", words: "Ask", shape: "tag" },
  { place: "cases", words: "Cases", shape: "bins" },
  { place: "failing", words: "Failing", shape: "tally" },
  { place: "shop", words: "Shop", shape: "shop" },
];

export function Bottom({ place }: { place: string }): JSX.Element {
  return (
    <nav class="bottom" aria-label="Places">
      {PLACES.map((each) => (
        <a key={each.place} href={`#/${each.place}`} aria-current={each.place === place ? "page" : undefined}>
          <Shape name={each.shape} />
          {each.words}
        </a>
      ))}
    </nav>
  );
}

export function Dock({ children }: { children: ComponentChildren }): JSX.Element {
  return <div class="dock">{children}</div>;
}
