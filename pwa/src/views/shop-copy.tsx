/** The copy on this phone: how many cases, how much room, and whether the browser promised to keep it. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import type { CopyFacts } from "../model/copy-limit";
import { numbers } from "../model/intl";
import { figure } from "./words";
import { locale, t } from "../texts";

/** "1.2 MB", "11 GB". */
function size(bytes: number): string {
  const [unit, many] = bytes < 1e9 ? ["megabyte", bytes / 1e6] : ["gigabyte", bytes / 1e9];
  return numbers(locale(), { style: "unit", unit, maximumFractionDigits: many < 10 ? 1 : 0 }).format(many);
}

export interface CopyLineProps {
  cases: number;
  facts: () => Promise<CopyFacts>;
}

export function CopyLine({ cases, facts }: CopyLineProps): JSX.Element {
  const [known, setKnown] = useState<CopyFacts | null>(null);
  useEffect(() => void facts().then(setKnown), [cases]);
  const used = known?.bytes == null ? "" : size(known.bytes);
  const room = used && known?.quota ? t().shop.ofAllowed(used, size(known.quota)) : used;
  return (
    <p class="soft">
      {[t().shop.copyOnThisPhone(figure(cases)), room].filter(Boolean).join(", ")}.
      {known && known.leftOut > 0 && t().shop.olderWithTheService(figure(known.leftOut))}
    </p>
  );
}
