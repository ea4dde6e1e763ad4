/** Bodies the phone sends; what is optional there may be left out. */

import type { UnresolvedReason } from "./wire-case";
import type {
  ConditionValue,
  Correction,
  Labour,
  Measure,
  Objection,
  PartResult,
  RepairResult,
  SkipReason,
  SourceKind,
  Vehicle,
  When,
} from "./wire-values";

export interface ReadingBody {
  readonly id?: string;
  readonly quantity: string;
  readonly value: number;
  readonly unit: string;
  readonly point?: string;
  readonly when?: When;
  readonly conditions?: Readonly<Record<string, ConditionValue>>;
}

export interface TestBody {
  readonly id?: string;
  readonly test: string;
  readonly outcome: string;
  readonly minutes?: number;
  readonly note?: string;
  readonly part?: string;
  readonly fault_present?: boolean;
}

export interface PartBody {
  readonly id?: string;
  readonly component: string;
  readonly source: SourceKind;
  readonly price?: number;
  readonly result?: PartResult | null;
  readonly note?: string;
  readonly charged?: boolean;
}

export interface PartChange {
  readonly result?: PartResult | null;
  readonly note?: string;
  readonly charged?: boolean;
  readonly price?: number | null;
}

export interface RepairBody {
  readonly id?: string;
  readonly cause: string;
  readonly result: RepairResult;
  readonly minutes?: number;
  readonly note?: string;
}

export interface SkipBody {
  readonly id?: string;
  readonly test: string;
  readonly because: SkipReason;
  readonly note?: string;
}

export interface ObjectionBody {
  readonly id?: string;
  readonly cause: string;
  readonly because: Objection;
  readonly note?: string;
}

/** A test or reading put right after the fact; what is left out stays. */
export interface StepChange {
  readonly outcome?: string;
  readonly part?: string | null;
  readonly value?: number;
  readonly unit?: string;
  readonly point?: string;
  readonly conditions?: Readonly<Record<string, ConditionValue>>;
  readonly note?: string;
}

export interface ComplaintBody {
  readonly complaint: string;
  readonly vehicle?: Partial<Vehicle>;
  readonly symptoms?: readonly string[];
  readonly codes?: readonly string[];
  readonly readings?: readonly ReadingBody[];
  readonly tests?: readonly TestBody[];
  readonly parts?: readonly PartBody[];
  readonly repairs?: readonly RepairBody[];
  readonly skipped?: readonly SkipBody[];
  readonly objections?: readonly ObjectionBody[];
  readonly comes_and_goes?: boolean;
  readonly shows_when?: readonly string[];
  /** Words that are right as they stand and are not mended. */
  readonly as_typed?: readonly string[];
}

export interface AdviceBody extends ComplaintBody {
  readonly minutes_spent?: number;
  readonly limit?: number;
}

export interface CaseBody extends ComplaintBody {
  readonly id?: string;
  readonly note?: string;
  readonly opened?: string;
}

/** JSON merge patch of a case (RFC 7396): null takes a value away. */
export interface CaseChange {
  readonly complaint?: string;
  readonly vehicle?: { readonly [K in keyof Vehicle]?: Vehicle[K] | null };
  readonly symptoms?: readonly string[];
  readonly codes?: readonly string[];
  readonly comes_and_goes?: boolean;
  readonly shows_when?: readonly string[];
  readonly as_typed?: readonly string[];
  readonly note?: string;
  readonly title?: string;
  readonly correction?: Correction | null;
  readonly cause?: string | null;
  readonly cause_title?: string;
  readonly verification?: string;
  readonly labour?: Partial<Labour>;
}

export interface OwnCause {
  readonly title: string;
  readonly system?: string;
  readonly component?: string;
}

export interface CloseBody {
  readonly cause?: string;
  readonly own_cause?: OwnCause;
  readonly correction?: Correction | string;
  readonly confirmed_by?: string;
  readonly verification?: string;
  readonly verified?: boolean;
  readonly readings?: readonly ReadingBody[];
  readonly labour?: Partial<Labour>;
  readonly other_cost?: number;
  readonly note?: string;
  readonly title?: string;
  readonly unresolved?: UnresolvedReason;
}

export interface ReopenBody {
  readonly id?: string;
  readonly complaint?: string;
  readonly vehicle?: { readonly odometer?: Measure | null };
  readonly note?: string;
}

/** A test of the shop's own; its outcomes are "found" and "not_found". */
export interface OwnTestBody {
  readonly title: string;
  readonly system: string;
  readonly minutes: number;
  readonly steps?: readonly string[];
  readonly points_at: readonly string[];
  readonly for_symptoms?: readonly string[];
  readonly note?: string;
}

export interface OwnCauseBody {
  readonly title: string;
  readonly system: string;
  readonly component?: string;
  readonly symptoms: readonly string[];
  readonly fix?: string;
  readonly minutes?: number;
}
