/** The copy on this phone: how many cases, how much room, and whether the browser promised to keep it. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import type { CopyFacts } from "../model/copy-limit";

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(bytes < 10e6 ? 1 : 0)} MB`;

export interface CopyLineProps {
  cases: number;
  facts: () => Promise<CopyFacts>;
}

export function CopyLine({ cases, facts }: CopyLineProps): JSX.Element {
  const [known, setKnown] = useState<CopyFacts | null>(null);
  useEffect(() => void facts().then(setKnown), [cases]);
  const room = known?.bytes == null ? "" : `, ${megabytes(known.bytes)}${known.quota ? ` of ${megabytes(known.quota)} allowed` : ""}`;
  return (
    <p class="soft">
      On this phone: {cases} cases{room}.
      {known && known.leftOut > 0 && ` The newest and the open ones; ${known.leftOut} older ones are with the service only.`}
    </p>
  );
}
