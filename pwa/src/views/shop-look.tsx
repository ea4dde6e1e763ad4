/** How this phone shows things: its language, light or dark, and the contrast. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { PickOne } from "../ui/chips";
import { LANGUAGES, t } from "../texts";

export interface LookProps {
  scheme: string;
  contrast: string;
  language: string;
  onLook: (change: { scheme?: string; contrast?: string }) => void;
  onLanguage: (language: string) => void;
}

const SPOKEN = [
  { value: "phone", get label() { return t().shopLook.asThePhone; } },
  ...Object.entries(LANGUAGES).map(([value, { name }]) => ({ value, label: name })),
];
const SCHEMES = [
  { value: "phone", get label() { return t().shopLook.asThePhone; } },
  { value: "light", get label() { return t().shopLook.light; } },
  { value: "dark", get label() { return t().shopLook.dark; } },
];
const CONTRASTS = [
  { value: "phone", get label() { return t().shopLook.asThePhone; } },
  { value: "more", get label() { return t().shopLook.high; } },
  { value: "usual", get label() { return t().shopLook.usual; } },
];

export function ShopLook({ language, scheme, contrast, onLook, onLanguage }: LookProps): JSX.Element {
  return (
    <Bin title={t().shopLook.howItLooks}>
      <PickOne label={t().shopLook.language} value={language} choices={SPOKEN} onPick={onLanguage} />
      <p class="soft">{t().shopLook.whatStaysEnglish}</p>
      <PickOne label={t().shopLook.lightOrDark} value={scheme} choices={SCHEMES} onPick={(value) => onLook({ scheme: value })} />
      <PickOne label={t().shopLook.contrast} value={contrast} choices={CONTRASTS} onPick={(value) => onLook({ contrast: value })} />
    </Bin>
  );
}
