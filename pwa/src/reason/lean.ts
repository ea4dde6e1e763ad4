/** When a fault shows, and what that says of symptoms and causes. */

import type { Lists } from "../wire-reasoning";
import { figuresOf } from "./figures";

export interface Lean {
  /** Factor on the odds of a symptom when the fault shows in these conditions. */
  readonly fit: (symptom: string, shows: readonly string[]) => number;
  /** The chance that a fault of the cause shows in the condition rather than its opposite. */
  readonly shownBy: (cause: string, condition: string) => number;
  readonly listed: Readonly<Record<string, string>>;
}

export function leanOf({ conditions, causes, numbers }: Lists): Lean {
  const figure = figuresOf(numbers);
  const at = (name: string): number => figure("conditions", name);
  const against = (condition: string): string[] => conditions.opposites.filter((pair) => pair.includes(condition)).map(([one, other]) => (one === condition ? other : one));

  function one(shows: readonly string[], condition: string): number {
    const [agrees, contradicts] = [shows.includes(condition), against(condition).some((other) => shows.includes(other))];
    if (agrees === contradicts) return 1;
    return at(agrees ? "AGREES" : "CONTRADICTS");
  }

  return {
    listed: conditions.listed,
    fit(symptom, given) {
      const shows = conditions.of_symptom[symptom] ?? [];
      const whole = [...new Set(given)].reduce((product, condition) => product * one(shows, condition), 1);
      return Math.min(Math.max(whole, at("LEAST_FIT")), at("MOST_FIT"));
    },
    shownBy(cause, condition) {
      const lean = causes.lean[cause] ?? {};
      const opposite = against(condition).map((other) => lean[other] ?? 0);
      const towards = lean[condition] ?? 0;
      const other = opposite.length ? Math.max(...opposite) : 1 - towards;
      return (at("UNSAID") + towards) / (2 * at("UNSAID") + towards + other);
    },
  };
}
