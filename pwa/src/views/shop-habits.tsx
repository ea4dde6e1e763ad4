/** Units, labour rate, currency and the way out with all data; for the manager. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { asTyped, numberTyped } from "../model/typed-number";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import { TextField } from "../ui/field";
import type { Shop } from "../wire";
import { t } from "../texts";

const UNITS = [
  { value: "si", get label() { return t().shopHabits.kpaCKm; } },
  { value: "us", get label() { return t().shopHabits.psiFMiles; } },
];

export function ShopHabits({ shop, onShop, onExport }: { shop: Shop; onShop: (change: Partial<Omit<Shop, "id">>) => void; onExport: () => void }): JSX.Element {
  const [rate, setRate] = useState(asTyped(shop.rate_per_hour));
  const value = numberTyped(rate);
  const wrong = value === null || value <= 0;
  return (
    <Bin title={t().shopHabits.habitsOfTheShop}>
      <PickOne label={t().shopHabits.unitsOfferedFirst} value={shop.unit_system} choices={UNITS} onPick={(unit) => onShop({ unit_system: unit === "us" ? "us" : "si" })} />
      <div class="entry-row">
        <TextField label={t().shopHabits.labourRateAnHour} hint={shop.currency} mode="decimal" value={rate} onText={setRate} problem={wrong ? t().shopHabits.aNumberAboveNoughtLike : undefined} />
        <Button disabled={wrong || value === shop.rate_per_hour} onTap={() => value !== null && onShop({ rate_per_hour: value })}>{t().shopHabits.save}</Button>
      </div>
      <Button onTap={onExport}>{t().shopHabits.takeAllDataOut}</Button>
    </Bin>
  );
}
