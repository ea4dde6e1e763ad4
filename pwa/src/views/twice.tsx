/** A visit that was written twice: both side by side, joined or kept as two with one tap. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import { stepsOf } from "../model/job";
import type { LocalCase } from "../model/local-case";
import { Bin } from "../ui/bin";
import { Button, LinkButton } from "../ui/button";
import { Notice } from "../ui/notice";
import type { AlikeCase, Settled } from "../wire";
import { dayAndTime, sentence, stateWords, vehicleDetail, vehicleWords } from "./words";

export interface TwiceActs {
  /** Other records of the visit; none without signal. */
  onAlike: () => Promise<readonly AlikeCase[]>;
  /** Why it was not done, empty when it was. */
  onSettle: (twin: Settled) => Promise<string>;
}

const wrote = (opened: string | null, by: string | null): string => [opened && dayAndTime(opened), by].filter(Boolean).join(", ");
const counted = (many: number, what: string): string => (many > 0 ? `${many} ${what}${many > 1 ? "s" : ""}` : "");
const did = (steps: number, photos: number): string => [counted(steps, "step"), counted(photos, "photo")].filter(Boolean).join(", ");

type Row = readonly [what: string, here: string, there: string];

/** What the two records say, row by row; what neither says is left out. */
function rows(mine: LocalCase, other: AlikeCase): readonly Row[] {
  const all: readonly Row[] = [
    ["Complaint", mine.complaint, other.complaint],
    ["Written", wrote(mine.opened, mine.by), wrote(other.opened, other.by)],
    ["Car", vehicleWords(mine.vehicle), vehicleWords(other.vehicle)],
    ["More on the car", vehicleDetail(mine.vehicle), vehicleDetail(other.vehicle)],
    ["State", stateWords(mine.state), stateWords(other.state)],
    ["Cause", mine.cause_title, other.cause_title],
    ["Done", did(stepsOf(mine).length, mine.photos.length), did(other.steps, other.photos)],
  ];
  return all.filter(([, here, there]) => here || there);
}

function SideBySide({ mine, other }: { mine: LocalCase; other: AlikeCase }): JSX.Element {
  return (
    <table class="side-by-side">
      <thead>
        <tr><th scope="col">This one</th><th scope="col">The other</th></tr>
      </thead>
      <tbody>
        {rows(mine, other).map(([what, here, there]) => (
          <tr key={what}>
            {here === there ? <td colSpan={2}>{`Both: ${here}`}</td> : [here, there].map((said, at) => <td key={at}>{said || "–"}</td>)}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Away({ into, onSplit }: { into: string; onSplit: () => void }): JSX.Element {
  return (
    <Notice title="Written twice: this record is joined into another case and counts no more">
      <LinkButton kind="main" href={`#/case/${into}`}>Open that case</LinkButton>
      <Button onTap={onSplit}>Split it off again</Button>
    </Notice>
  );
}

function Held({ ids }: { ids: readonly string[] }): JSX.Element {
  return (
    <Notice title={ids.length === 1 ? "Another record of this visit is joined in" : `${ids.length} other records of this visit are joined in`}>
      {ids.map((each) => <LinkButton key={each} kind="quiet" href={`#/case/${each}`}>See it, or split it off</LinkButton>)}
    </Notice>
  );
}

interface OfferProps {
  mine: LocalCase;
  other: AlikeCase;
  onJoin: () => void;
  onApart: () => void;
}

function Offer({ mine, other, onJoin, onApart }: OfferProps): JSX.Element {
  return (
    <Bin title="Written twice?">
      <p class="strong">{sentence(other.why.join(", "))}</p>
      <SideBySide mine={mine} other={other} />
      {other.takes.length > 0 && <p class="soft">{`Joining takes over: ${other.takes.join(", ")}.`}</p>}
      <div class="halves">
        <Button kind="main" onTap={onJoin}>Join them</Button>
        <Button onTap={onApart}>Keep both</Button>
      </div>
      <LinkButton kind="quiet" href={`#/case/${other.case}`}>Look at the other</LinkButton>
    </Bin>
  );
}

export function Twice({ file, onAlike, onSettle }: TwiceActs & { file: LocalCase }): JSX.Element | null {
  const [twins, show] = useState<readonly AlikeCase[]>([]);
  const [wrong, tell] = useState("");
  const { id, state, unsent, joined_into: into } = file;
  useEffect(() => {
    let here = true;
    show([]);
    tell("");
    if (state !== "open" && unsent === 0 && !into) void onAlike().then((found) => here && show(found));
    return () => {
      here = false;
    };
  }, [id, state, unsent, into]);
  const settle = async (twin: Settled): Promise<void> => {
    const why = await onSettle(twin);
    tell(why);
    if (!why) show((all) => all.filter((each) => each.case !== twin.other && each.case !== twin.id));
  };
  const join = ({ case: other, remains }: AlikeCase): void => void settle({ id: remains, how: "join", other: remains === id ? other : id });
  const [twin] = twins;
  return (
    <>
      {into && <Away into={into} onSplit={() => void settle({ id, how: "split", other: into })} />}
      {file.joined.length > 0 && <Held ids={file.joined} />}
      {twin && <Offer mine={file} other={twin} onJoin={() => join(twin)} onApart={() => void settle({ id, how: "apart", other: twin.case })} />}
      {wrong && <Notice kind="bad" title="Not done"><p>{wrong}</p></Notice>}
    </>
  );
}
