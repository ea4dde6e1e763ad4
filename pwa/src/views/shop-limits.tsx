/** What this shop cannot do, and what only some may do: missing tools, and work that needs a certificate. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { toggled } from "../model/draft";
import { Bin } from "../ui/bin";
import { AskTwice, Button } from "../ui/button";
import { DropChips, PickSome } from "../ui/chips";
import { Select, TextField } from "../ui/field";
import { Fold } from "../ui/fold";
import type { Right, Shop, Trade } from "../wire";
import { sentence, titleOf } from "./words";
import { t } from "../texts";

interface ShopLimitsProps {
  shop: Shop;
  trade: Trade;
  onShop: (change: Partial<Omit<Shop, "id">>) => void;
}

/** Every tool a listed test asks for, the commonest first. */
export function toolsOf(trade: Trade): string[] {
  const counts = new Map<string, number>();
  for (const tool of trade.tests.flatMap((each) => each.tools)) counts.set(tool, (counts.get(tool) ?? 0) + 1);
  return [...counts].sort(([a, m], [b, n]) => n - m || a.localeCompare(b)).map(([tool]) => tool);
}

function Tools({ shop, trade, onShop }: ShopLimitsProps): JSX.Element {
  const left = toolsOf(trade).filter((each) => !shop.lacks.includes(each));
  const flip = (tool: string): void => onShop({ lacks: toggled(shop.lacks, tool) });
  return (
    <div class="stack">
      <p class="strong">{t().shopLimits.toolsThisShopHasNot}</p>
      <p class="soft">{t().shopLimits.testsThatNeedOneAre}</p>
      <DropChips label={t().shopLimits.toolsThisShopHasNot} items={shop.lacks.map((each) => ({ value: each, label: each }))} onDrop={flip} />
      <Select label={t().shopLimits.addAMissingTool} value="" choices={[{ value: "", label: t().shopLimits.choose }, ...left.map((each) => ({ value: each, label: sentence(each) }))]} onPick={(tool) => tool && flip(tool)} />
    </div>
  );
}

const NAMED = 3;

function RightSlip({ right, props }: { right: Right; props: ShopLimitsProps }): JSX.Element {
  const { shop, trade, onShop } = props;
  const others = shop.rights.filter((each) => each.right !== right.right);
  const needed = (id: string): void => {
    const left = toggled(right.needed_for, id);
    if (left.length > 0) onShop({ rights: [...others, { right: right.right, needed_for: left }] });
  };
  const named = right.needed_for.map((id) => titleOf([...trade.systems, ...trade.tests], id));
  return (
    <div class="slip">
      <p class="slip-title">{sentence(right.right)}</p>
      <p>{t().shopLimits.neededFor(named.slice(0, NAMED).join(", "))}{named.length > NAMED && t().shopLimits.andMore(named.length - NAMED)}</p>
      <Fold title={t().shopLimits.change}>
        <PickSome label={t().shopLimits.neededForAllWorkOn} values={right.needed_for} choices={trade.systems.map((each) => ({ value: each.id, label: each.title }))} onFlip={needed} />
        <AskTwice question={t().shopLimits.askNobodyForTheAny(right.right)} sure={t().shopLimits.takeItOut} onTap={() => onShop({ rights: others })}>{t().shopLimits.takeItOut}</AskTwice>
      </Fold>
    </div>
  );
}

function AddRight({ shop, trade, onShop }: ShopLimitsProps): JSX.Element {
  const [right, setRight] = useState("");
  const [needed, setNeeded] = useState<readonly string[]>([]);
  const add = (): void => {
    onShop({ rights: [...shop.rights, { right: right.trim().toLowerCase(), needed_for: needed }] });
    setRight("");
    setNeeded([]);
  };
  return (
    <Fold title={t().shopLimits.addACertificate}>
      <TextField label={t().shopLimits.whatItIsCalled} value={right} caps="none" maxLength={60} onText={setRight} placeholder={t().shopLimits.refrigerantCertificate} />
      <PickSome label={t().shopLimits.neededForAllWorkOn} values={needed} choices={trade.systems.map((each) => ({ value: each.id, label: each.title }))} onFlip={(id) => setNeeded(toggled(needed, id))} />
      <Button kind="main" wide disabled={right.trim() === "" || needed.length === 0} onTap={add}>{needed.length === 0 ? t().shopLimits.pickWhatNeedsIt : t().shopLimits.addIt}</Button>
    </Fold>
  );
}

export function ShopLimits(props: ShopLimitsProps): JSX.Element {
  return (
    <Bin title={t().shopLimits.whatWeCannotOrMay}>
      <Tools {...props} />
      <p class="strong">{t().shopLimits.workThatNeedsACertificate}</p>
      <p class="soft">{t().shopLimits.whoHoldsItIsSet}</p>
      {props.shop.rights.map((right) => <RightSlip key={right.right} right={right} props={props} />)}
      <AddRight {...props} />
    </Bin>
  );
}
