/** Whether the shop takes part in what shops of the service share. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { AskTwice, Button } from "../ui/button";
import type { Shop } from "../wire";
import { t } from "../texts";

export function ShopSharing({ shop, onShop }: { shop: Shop; onShop: (change: Partial<Omit<Shop, "id">>) => void }): JSX.Element {
  return (
    <Bin title={t().sharing.switchTitle}>
      <p class="slip">{t().sharing.switchWhat}</p>
      <p class="strong">{shop.shares ? t().sharing.on : t().sharing.off}</p>
      {shop.shares
        ? <AskTwice question={t().sharing.stopAsk} sure={t().sharing.stop} onTap={() => onShop({ shares: false })}>{t().sharing.stop}</AskTwice>
        : <Button wide onTap={() => onShop({ shares: true })}>{t().sharing.start}</Button>}
    </Bin>
  );
}
