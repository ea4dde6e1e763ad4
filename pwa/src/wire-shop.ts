/** The shop and who is signed in, and a refusal, as they travel. */

import { flag, list, number, object, oneOf, or, orNull, text } from "./wire-parse";
import type { Parsed } from "./wire-parse";

export const parseRole = oneOf("technician", "manager");
export type Role = Parsed<typeof parseRole>;

export const parseMember = object({
  id: text,
  name: text,
  role: parseRole,
  skill: number,
  active: or(flag, true),
  rights: or(list(text), []),
});
export type Member = Parsed<typeof parseMember>;

/** A certificate, and the systems and tests nobody does without it in this shop. */
const parseRight = object({ right: text, needed_for: or(list(text), []) });
export type Right = Parsed<typeof parseRight>;

export const parseShop = object({
  id: text,
  name: text,
  currency: text,
  unit_system: oneOf("si", "us"),
  rate_per_hour: number,
  time_zone: text,
  lacks: or(list(text), []),
  rights: or(list(parseRight), []),
  shares: or(flag, false),
});
export type Shop = Parsed<typeof parseShop>;

const parseThisDevice = object({ id: text, name: text });

export const parseMe = object({
  member: parseMember,
  device: parseThisDevice,
  shop: parseShop,
  revision: or(number, 0),
  /** Which service answers; an older one does not say. */
  service: orNull(object({ version: text, build: text })),
});
export type Me = Parsed<typeof parseMe>;

export const parseJoined = object({ token: text, device: parseThisDevice, member: parseMember, shop: parseShop });
export type Joined = Parsed<typeof parseJoined>;

export const parseToken = object({ token: text });

const parseFieldError = object({ field: orNull(text), detail: or(text, ""), remedy: or(text, "") });

/** Why the service refused: the field and the way out. */
export const parseProblem = object({
  type: or(text, "about:blank"),
  title: or(text, "Refused"),
  status: number,
  detail: or(text, ""),
  field: orNull(text),
  remedy: or(text, ""),
  errors: or(list(parseFieldError), []),
});
export type Problem = Parsed<typeof parseProblem>;
