/** The copy on this phone: how many cases, how much room, and whether the browser promised to keep it. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import type { CopyFacts } from "../model/copy-limit";
import { locale, t } from "../texts";

const megabytes = (bytes: number): string =>
  new Intl.NumberFormat(locale(), { style: "unit", unit: "megabyte", maximumFractionDigits: bytes < 10e6 ? 1 : 0 }).format(bytes / 1e6);

export interface CopyLineProps {
  cases: number;
  facts: () => Promise<CopyFacts>;
}

export function CopyLine({ cases, facts }: CopyLineProps): JSX.Element {
  const [known, setKnown] = useState<CopyFacts | null>(null);
  useEffect(() => void facts().then(setKnown), [cases]);
  const used = known?.bytes == null ? "" : megabytes(known.bytes);
  const room = used && known?.quota ? t().shop.ofAllowed(used, megabytes(known.quota)) : used;
  return (
    <p class="soft">
      {[t().shop.copyOnThisPhone(cases), room].filter(Boolean).join(", ")}.
      {known && known.leftOut > 0 && t().shop.olderWithTheService(known.leftOut)}
    </p>
  );
}
