/** Units, labour rate, currency and the way out with all data; for the manager. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { padValue } from "../model/reading";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import { TextField } from "../ui/field";
import type { Shop } from "../wire";

const UNITS = [
  { value: "si", label: "kPa, °C, km" },
  { value: "us", label: "psi, °F, miles" },
];

export function ShopHabits({ shop, onShop, onExport }: { shop: Shop; onShop: (change: Partial<Omit<Shop, "id">>) => void; onExport: () => void }): JSX.Element {
  const [rate, setRate] = useState(String(shop.rate_per_hour));
  const value = padValue(rate);
  const wrong = value === null || value <= 0;
  return (
    <Bin title="Habits of the shop">
      <PickOne label="Units offered first" value={shop.unit_system} choices={UNITS} onPick={(unit) => onShop({ unit_system: unit === "us" ? "us" : "si" })} />
      <div class="entry-row">
        <TextField label="Labour rate an hour" hint={shop.currency} mode="decimal" value={rate} onText={setRate} problem={wrong ? "A number above nought, like 95" : undefined} />
        <Button disabled={wrong || value === shop.rate_per_hour} onTap={() => value !== null && onShop({ rate_per_hour: value })}>Save</Button>
      </div>
      <Button onTap={onExport}>Take all data out</Button>
    </Bin>
  );
}
