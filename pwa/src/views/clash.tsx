/** The same field changed here and by somebody else: both are shown, and the person says which stays. */
import type { JSX } from "preact";

import { clashesOf, isChange, type Clash } from "../model/clash";
import type { Entry } from "../model/outbox";
import { Button } from "../ui/button";
import { Notice } from "../ui/notice";
import { isObject, type Case, type Trade } from "../wire";
import { figure, measured, named, outcomeWords } from "./words";
import { t } from "../texts";

export interface ClashActs {
  onMine: (key: string) => void;
  onTheirs: (key: string) => void;
}

/** The clashes of a refused entry with the case as the service has it now. */
export function clashesIn(entry: Entry, stored: readonly Case[]): readonly Clash[] {
  const file = stored.find((each) => each.id === entry.caseId);
  return entry.state === "parked" && file && isChange(entry.act) ? clashesOf(entry.act, file) : [];
}

const fieldWords = (field: string): string => {
  const last = field.split(".").at(-1) ?? field;
  return (t().clash.fields as Readonly<Record<string, string>>)[last] ?? named(last);
};

function wordsOf(value: unknown): string {
  if (Array.isArray(value)) return value.map(String).join(", ") || t().clash.nothing;
  if (isObject(value) && typeof value["value"] === "number") return measured(value["value"], String(value["unit"] ?? ""));
  if (isObject(value)) return Object.values(value).filter(Boolean).map(wordsOf).join(", ") || t().clash.nothing;
  if (typeof value === "number") return value >= 1900 && value < 2100 ? String(value) : figure(value);
  if (typeof value === "boolean") return value ? t().caseStep.yes : t().caseStep.no;
  return typeof value === "string" && value !== "" ? value : t().clash.nothing;
}

/** An outcome in the words of its test, anything else by itself. */
function valueWords({ field }: Clash, value: unknown, { entry, stored, trade }: Pick<AskedProps, "entry" | "stored" | "trade">): string {
  const { act } = entry;
  if (field !== "outcome" || act.do !== "step change" || typeof value !== "string") return wordsOf(value);
  const step = stored.find((each) => each.id === entry.caseId)?.tests.find((each) => each.id === act.step);
  return step ? outcomeWords(trade, step.test, value) : wordsOf(value);
}

interface AskedProps extends ClashActs {
  entry: Entry;
  stored: readonly Case[];
  trade: Trade;
}

export function ClashAsked(props: AskedProps): JSX.Element | null {
  const { entry, stored, onMine, onTheirs } = props;
  const found = clashesIn(entry, stored);
  if (found.length === 0) return null;
  return (
    <Notice kind="bad" title={t().clash.bothChanged(found.map(({ field }) => fieldWords(field)).join(", "))}>
      <dl class="key-value">
        {found.map((each) => [
          <dt key={`${each.field} mine`}>{t().clash.mine(fieldWords(each.field))}</dt>, <dd key={`${each.field} 1`}>{valueWords(each, each.mine, props)}</dd>,
          <dt key={`${each.field} theirs`}>{t().clash.theirs(fieldWords(each.field))}</dt>, <dd key={`${each.field} 2`}>{valueWords(each, each.theirs, props)}</dd>,
        ])}
      </dl>
      <div class="row">
        <Button onTap={() => onMine(entry.key)}>{t().clash.keepMine}</Button>
        <Button onTap={() => onTheirs(entry.key)}>{t().clash.takeTheirs}</Button>
      </div>
    </Notice>
  );
}
