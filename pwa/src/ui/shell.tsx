/** Strip on top, four places at the thumb; what is unsent and whether there is signal stay in sight. */
import type { ComponentChildren, JSX } from "preact";

import { Shape, type ShapeName } from "./shape";
import { t } from "../texts";

interface StripProps {
  title: string;
  back?: string;
  online: boolean;
  unsent: number;
  parked: number;
}

function signalWords(online: boolean, unsent: number, parked: number): string {
  if (parked > 0) return t().ui.refused(parked);
  if (unsent > 0) return t().ui.unsent(unsent);
  return online ? t().ui.allSent : t().ui.offline;
}

export function Strip({ title, back, online, unsent, parked }: StripProps): JSX.Element {
  const words = signalWords(online, unsent, parked);
  const spoken = `${words}. ${t().ui.state({ online, unsent, parked })}`;
  return (
    <header class="strip">
      <div class="strip-left">
        {back && <a class="back" href={back} aria-label={t().ui.back}><Shape name="back" /></a>}
        <h1 tabIndex={-1}>{title}</h1>
      </div>
      <a class="mark" href="#/shop" aria-label={spoken}>
        <span class="mark-words">
          {!online && words !== t().ui.offline && <span>{t().ui.offline}</span>}
          <span data-unsent={unsent}>{words}</span>
        </span>
        <Shape name={online ? (unsent + parked > 0 ? "tray" : "link") : "cut"} />
      </a>
    </header>
  );
}

const PLACES: readonly { place: string; words: string; shape: ShapeName }[] = [
  { place: "ask", get words() { return t().ui.ask; }, shape: "tag" },
  { place: "cases", get words() { return t().ui.cases; }, shape: "bins" },
  { place: "failing", get words() { return t().ui.failing; }, shape: "tally" },
  { place: "shop", get words() { return t().ui.shop; }, shape: "shop" },
];

export function Bottom({ place }: { place: string }): JSX.Element {
  return (
    <nav class="bottom" aria-label={t().ui.places}>
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
