/** One page for the customer: looked through, printed or shared. */
import type { JSX } from "preact";

import { Button } from "../ui/button";
import { Switch } from "../ui/field";
import { Notice } from "../ui/notice";
import { Shape } from "../ui/shape";
import { Dock } from "../ui/shell";
import type { Handover, Section } from "./handover-words";
import { t } from "../texts";

interface HandoverProps {
  page: Handover;
  names: boolean;
  cost: boolean;
  onNames: (on: boolean) => void;
  onCost: (on: boolean) => void;
  onPrint: () => void;
  /** Null where the phone cannot share. */
  onShare: (() => void) | null;
  onCopy: () => void;
}

function Part({ title, lines }: Section): JSX.Element {
  return (
    <section>
      <h3>{title}</h3>
      <ul>{lines.map((line) => <li key={line}>{line}</li>)}</ul>
    </section>
  );
}

function Choice({ words, on, onFlip }: { words: string; on: boolean; onFlip: (on: boolean) => void }): JSX.Element {
  return <Switch label={words} on={on} onFlip={onFlip}><Shape name={on ? "boxTick" : "box"} />{words}</Switch>;
}

export function HandoverScreen({ page, names, cost, onNames, onCost, onPrint, onShare, onCopy }: HandoverProps): JSX.Element {
  return (
    <>
      <div class="place with-dock handover-place">
        <div class="stack not-printed">
          <Notice title={t().handover.readFirst} />
          <Choice words={t().handover.withNames} on={names} onFlip={onNames} />
          <Choice words={t().handover.withCost} on={cost} onFlip={onCost} />
        </div>
        <article class="handover" aria-label={t().handover.forTheCustomer}>
          <header>
            <p class="handover-shop">{page.shop}</p>
            <h2>{page.car}</h2>
            <p>{page.when}</p>
          </header>
          {page.sections.map((each) => <Part key={each.title} {...each} />)}
          {page.by && <p>{page.by}</p>}
          <footer>{page.foot}</footer>
        </article>
      </div>
      <Dock>
        <Button onTap={onCopy}>{t().handover.copy}</Button>
        {onShare && <Button onTap={onShare}>{t().handover.share}</Button>}
        <Button kind="main" onTap={onPrint}>{t().handover.print}</Button>
      </Dock>
    </>
  );
}
