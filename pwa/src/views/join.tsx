/** Signing this phone in with a link from the manager; one field, one button. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { Busy, Notice } from "../ui/notice";
import { Tag } from "../ui/tag";
import type { Trouble } from "./trouble";
import { t } from "../texts";

interface JoinProps {
  code: string;
  busy: boolean;
  online: boolean;
  trouble: Trouble | null;
  onJoin: (code: string, name: string) => void;
}

/** The code alone, also where the whole link was pasted. */
const codeFrom = (text: string): string => text.trim().replace(/^.*#\/join\//, "");

function Why({ trouble, online }: { trouble: Trouble | null; online: boolean }): JSX.Element | null {
  if (!online) return <Notice kind="warn" title={t().join.noConnection}>{t().join.signingInNeedsSignalOnce}</Notice>;
  if (!trouble || trouble.field === "name") return null;
  return <Notice kind="bad" title={trouble.title}><p>{trouble.remedy || t().join.askTheManagerForA}</p></Notice>;
}

export function Join({ code, busy, online, trouble, onJoin }: JoinProps): JSX.Element {
  const [name, setName] = useState("");
  const [typed, setTyped] = useState(code);
  const ready = name.trim() !== "" && codeFrom(typed) !== "";
  return (
    <div class="place">
      <Tag word="Baylore" full label={t().join.signThisPhoneIn}>
        <h1 class="tag-what">{t().join.putThisPhoneToWork}</h1>
        <div class="stack">
        <p>{t().join.itWillRememberWhatFaults}</p>
        {code === "" && <TextField label={t().join.signInLinkOrCode} hint={t().join.fromTheManager} value={typed} onText={setTyped} caps="none" maxLength={400} />}
        <TextField label={t().join.nameOfThisPhone} placeholder={t().join.bluePhoneBay2} value={name} onText={setName} maxLength={60} problem={trouble?.field === "name" ? trouble.detail : undefined} />
        <Why trouble={trouble} online={online} />
        <p class="small">{t().join.noCustomerNamesPhonesOr}</p>
        </div>
        <div class="stubs">
        {busy ? <Busy>{t().join.signingIn}</Busy> : <Button kind="main" wide disabled={!ready} onTap={() => onJoin(codeFrom(typed), name.trim())}>{t().join.start}</Button>}
        </div>
      </Tag>
    </div>
  );
}
