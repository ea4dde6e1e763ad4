/** Facts this member is asked for: minutes and odometer by a number, the rest by a tap. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { t } from "../texts";
import type { Asks, FactAsked } from "../wire";

/** `value` null says that nobody knows any more. */
export interface Answer {
  readonly fact: FactAsked["fact"];
  readonly value: string | null;
}

const MINUTES = ["10", "20", "30", "45", "60", "90"];

function Typed({ label, numeric, onSave }: { label: string; numeric: boolean; onSave: (value: string) => void }): JSX.Element {
  const [value, setValue] = useState("");
  const good = numeric ? Number(value.replace(",", ".")) > 0 : value.trim() !== "";
  return (
    <form onSubmit={(event) => { event.preventDefault(); if (good) onSave(value.trim().replace(",", ".")); }}>
      <TextField label={label} value={value} mode={numeric ? "decimal" : "text"} maxLength={80} onText={setValue} />
      <button class="button" disabled={!good}>{t().asks.save}</button>
    </form>
  );
}

function Question({ fact, onAnswer }: { fact: FactAsked["fact"]; onAnswer: (answer: Answer) => void }): JSX.Element {
  const give = (value: string | null): void => onAnswer({ fact, value });
  return (
    <div>
      {fact === "diagnosis minutes" && <><p>{t().asks.minutes}</p>{MINUTES.map((each) => <Button key={each} onTap={() => give(each)}>{each}</Button>)}</>}
      {fact === "verification" && <><p>{t().asks.verification}</p><Button onTap={() => give(t().asks.checked)}>{t().asks.checked}</Button></>}
      {fact === "correction" && <><p>{t().asks.correction}</p><Button onTap={() => give("replace")}>{t().asks.replaced}</Button><Button onTap={() => give("repair")}>{t().asks.repaired}</Button></>}
      {fact === "model" && <Typed label={t().asks.model} numeric={false} onSave={give} />}
      {fact === "odometer" && <Typed label={t().asks.odometer} numeric onSave={give} />}
      <Button kind="quiet" onTap={() => give(null)}>{t().asks.nobodyKnows}</Button>
    </div>
  );
}

export function AskedOfMe({ asks, onAnswer }: { asks: Asks["asks"]; onAnswer: (id: string, answer: Answer) => void }): JSX.Element {
  return (
    <Bin title={t().asks.askedOfYou} count={asks.length}>
      <ul class="stack">
        {asks.map((one) => (
          <li class="slip" key={one.case.id}>
            <p class="strong"><a href={`#/case/${one.case.id}`}>{one.case.title || one.case.complaint}</a></p>
            {one.facts.map((each) => <Question key={each.fact} fact={each.fact} onAnswer={(given) => onAnswer(one.case.id, given)} />)}
          </li>
        ))}
      </ul>
    </Bin>
  );
}
