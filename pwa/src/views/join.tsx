/** Signing this phone in with a link from the manager; one field, one button. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { Busy, Notice } from "../ui/notice";
import { Tag } from "../ui/tag";
import type { Trouble } from "./trouble";

export interface JoinProps {
  code: string;
  busy: boolean;
  online: boolean;
  trouble: Trouble | null;
  onJoin: (code: string, name: string) => void;
}

/** The code alone, also where the whole link was pasted. */
export const codeFrom = (text: string): string => text.trim().replace(/^.*#\/join\//, "");

function Why({ trouble, online }: { trouble: Trouble | null; online: boolean }): JSX.Element | null {
  if (!online) return <Notice kind="warn" title="No connection">Signing in needs signal once. After that the phone works without it.</Notice>;
  if (!trouble || trouble.field === "name") return null;
  return <Notice kind="bad" title={trouble.title}><p>{trouble.remedy || "Ask the manager for a new link: one works once, for a day."}</p></Notice>;
}

export function Join({ code, busy, online, trouble, onJoin }: JoinProps): JSX.Element {
  const [name, setName] = useState("");
  const [typed, setTyped] = useState(code);
  const ready = name.trim() !== "" && codeFrom(typed) !== "";
  return (
    <div class="place">
      <Tag word="Baylore" full label="Sign this phone in">
        <h1 class="tag-what">Put this phone to work</h1>
        <div class="stack">
        <p>It will remember what faults turned out to be, and tell you what to test next. Give the phone a name the others know.</p>
        {code === "" && <TextField label="Sign-in link or code" hint="from the manager" value={typed} onText={setTyped} caps="none" maxLength={400} />}
        <TextField label="Name of this phone" placeholder="Blue phone, bay 2" value={name} onText={setName} maxLength={60} problem={trouble?.field === "name" ? trouble.detail : undefined} />
        <Why trouble={trouble} online={online} />
        <p class="small">No customer names, phones or addresses are ever stored.</p>
        </div>
        <div class="stubs">
        {busy ? <Busy>Signing in</Busy> : <Button kind="main" wide disabled={!ready} onTap={() => onJoin(codeFrom(typed), name.trim())}>Start</Button>}
        </div>
      </Tag>
    </div>
  );
}
