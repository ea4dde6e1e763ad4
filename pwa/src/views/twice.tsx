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
import { t } from "../texts";

export interface TwiceActs {
  /** Other records of the visit; none without signal. */
  onAlike: () => Promise<readonly AlikeCase[]>;
  /** Why it was not done, empty when it was. */
  onSettle: (twin: Settled) => Promise<string>;
}

const wrote = (opened: string | null, by: string | null): string => [opened && dayAndTime(opened), by].filter(Boolean).join(", ");
const did = (steps: number, photos: number): string => [steps > 0 && t().twice.steps(steps), photos > 0 && t().twice.photos(photos)].filter(Boolean).join(", ");

type Row = readonly [what: string, here: string, there: string];

/** What the two records say, row by row; what neither says is left out. */
function rows(mine: LocalCase, other: AlikeCase): readonly Row[] {
  const all: readonly Row[] = [
    [t().twice.complaint, mine.complaint, other.complaint],
    [t().twice.written, wrote(mine.opened, mine.by), wrote(other.opened, other.by)],
    [t().twice.car, vehicleWords(mine.vehicle), vehicleWords(other.vehicle)],
    [t().twice.moreOnTheCar, vehicleDetail(mine.vehicle), vehicleDetail(other.vehicle)],
    [t().twice.state, stateWords(mine.state), stateWords(other.state)],
    [t().twice.cause, mine.cause_title, other.cause_title],
    [t().twice.done, did(stepsOf(mine).length, mine.photos.length), did(other.steps, other.photos)],
  ];
  return all.filter(([, here, there]) => here || there);
}

function SideBySide({ mine, other }: { mine: LocalCase; other: AlikeCase }): JSX.Element {
  return (
    <table class="side-by-side">
      <thead>
        <tr><th scope="col">{t().twice.thisOne}</th><th scope="col">{t().twice.theOther}</th></tr>
      </thead>
      <tbody>
        {rows(mine, other).map(([what, here, there]) => (
          <tr key={what}>
            {here === there ? <td colSpan={2}>{t().twice.both(here)}</td> : [here, there].map((said, at) => <td key={at}>{said || "–"}</td>)}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Away({ into, onSplit }: { into: string; onSplit: () => void }): JSX.Element {
  return (
    <Notice title={t().twice.writtenTwiceThisRecordIs}>
      <LinkButton kind="main" href={`#/case/${into}`}>{t().twice.openThatCase}</LinkButton>
      <Button onTap={onSplit}>{t().twice.splitItOffAgain}</Button>
    </Notice>
  );
}

function Held({ ids }: { ids: readonly string[] }): JSX.Element {
  return (
    <Notice title={t().twice.joinedIn(ids.length)}>
      {ids.map((each) => <LinkButton key={each} kind="quiet" href={`#/case/${each}`}>{t().twice.seeItOrSplitIt}</LinkButton>)}
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
    <Bin title={t().twice.writtenTwice}>
      <p class="strong">{sentence(other.why.join(", "))}</p>
      <SideBySide mine={mine} other={other} />
      {other.takes.length > 0 && <p class="soft">{t().twice.joiningTakesOver(other.takes.join(", "))}</p>}
      <div class="halves">
        <Button kind="main" onTap={onJoin}>{t().twice.joinThem}</Button>
        <Button onTap={onApart}>{t().twice.keepBoth}</Button>
      </div>
      <LinkButton kind="quiet" href={`#/case/${other.case}`}>{t().twice.lookAtTheOther}</LinkButton>
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
      {wrong && <Notice kind="bad" title={t().twice.notDone}><p>{wrong}</p></Notice>}
    </>
  );
}
