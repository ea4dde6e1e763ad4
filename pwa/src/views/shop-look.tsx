/** How this phone shows things: light or dark, and the contrast. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { PickOne } from "../ui/chips";

export interface LookProps {
  scheme: string;
  contrast: string;
  onLook: (change: { scheme?: string; contrast?: string }) => void;
}

const SCHEMES = [
  { value: "phone", label: "As the phone" },
  { value: "light", label: "Light" },
  { value: "dark", label: "Dark" },
];
const CONTRASTS = [
  { value: "phone", label: "As the phone" },
  { value: "more", label: "High" },
  { value: "usual", label: "Usual" },
];

export function ShopLook({ scheme, contrast, onLook }: LookProps): JSX.Element {
  return (
    <Bin title="How it looks">
      <PickOne label="Light or dark" value={scheme} choices={SCHEMES} onPick={(value) => onLook({ scheme: value })} />
      <PickOne label="Contrast" value={contrast} choices={CONTRASTS} onPick={(value) => onLook({ contrast: value })} />
    </Bin>
  );
}
