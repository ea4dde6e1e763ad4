/** A visit that was written twice: both side by side, joined or kept as two with one tap. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import type { LocalCase } from "../model/local-case";
import { Button, LinkButton } from "../ui/button";
import { Notice } from "../ui/notice";
import type { AlikeCase } from "../wire";
import { dayAndTime } from "./words";

export interface TwiceActs {
  /** Other records of the visit; none without signal. */
  onAlike: () => Promise<readonly AlikeCase[]>;
  onSettle: (how: "join" | "apart" | "split", other: string) => Promise<boolean>;
}

export function Twice({ file, onAlike, onSettle }: TwiceActs & { file: LocalCase }): JSX.Element | null {
  const [twins, show] = useState<readonly AlikeCase[]>([]);
  const [failed, fail] = useState(false);
  useEffect(() => {
    let here = true;
    if (file.state !== "open" && file.unsent === 0 && !file.joined_into) void onAlike().then((found) => here && show(found));
    return () => {
      here = false;
    };
  }, [file.id, file.state, file.unsent, file.joined_into]);
  const settle = async (how: "join" | "apart" | "split", other: string): Promise<void> => {
    const done = await onSettle(how, other);
    fail(!done);
    if (done) show((all) => all.filter((each) => each.case !== other));
  };
  if (file.joined_into) {
    const into = file.joined_into;
    return (
      <Notice title="Joined into another case: this record counts no more">
        <LinkButton href={`#/case/${into}`}>Open that case</LinkButton>
        <Button onTap={() => void settle("split", into)}>Split it off again</Button>
        {failed && <p>This needs signal. Try again.</p>}
      </Notice>
    );
  }
  const twin = twins[0];
  if (!twin) return null;
  return (
    <Notice kind="warn" title="Written twice?">
      <p>“{twin.complaint}”{twin.opened && `, ${dayAndTime(twin.opened)}`}</p>
      <p class="soft small">{twin.why.join(", ")}</p>
      <div class="halves">
        <Button kind="main" onTap={() => void settle("join", twin.case)}>Join them</Button>
        <Button onTap={() => void settle("apart", twin.case)}>Two visits</Button>
      </div>
      <LinkButton kind="quiet" href={`#/case/${twin.case}`}>Look at the other</LinkButton>
      {failed && <p>This needs signal. Try again.</p>}
    </Notice>
  );
}
