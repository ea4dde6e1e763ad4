"""The front door: a complaint and a shop's memory in, the whole answer out."""

from __future__ import annotations

from dataclasses import dataclass

from baylore_kb.before import ruled_out_before
from baylore_kb.calls import questions
from baylore_kb.causes import Posterior, posterior
from baylore_kb.features import Compared, compare
from baylore_kb.index import Candidate, Snapshot
from baylore_kb.match import SHIPPED, MatchWeights, as_matches, explained
from baylore_kb.plan import plan
from baylore_kb.plan.offered import HEARD_AT_LEAST
from baylore_kb.price import price_span
from baylore_kb.question import Question, understand
from baylore_kb.search import COMPARED
from baylore_kb.values import Advice, CauseChance, Complaint, Match, Terms
from baylore_kb.varied import varied

MOST_CAUSES, LEAST_UNNAMED = 100, 0.001


@dataclass(frozen=True, slots=True)
class Tuning:
    """What a shop's own cases taught: match weights, and how sure to sound (1: as sure as reckoned).

    `temperature` > 0 is of what is known before tests, sharper below 1; `trust` > 0 the exponent of what
    tests say.
    """

    weights: MatchWeights = SHIPPED
    temperature: float = 1.0
    trust: float = 1.0


SHIPPED_TUNING = Tuning()


def advise(
    complaint: Complaint,
    snapshot: Snapshot,
    *,
    limit: int = 10,
    terms: Terms | None = None,
    leave_out: frozenset[str] = frozenset(),
    candidates: tuple[Candidate, ...] | None = None,
    tuning: Tuning = SHIPPED_TUNING,
) -> Advice:
    """Past cases, causes, next tests and the next step for a complaint.

    At most `limit` past cases are given (at least 0). `leave_out` are case ids that must not count, as when
    a stored case asks for itself. `candidates` replace the snapshot's own search. `tuning` is the shop's,
    if it has one. The same question of the same snapshot always gives the same answer; a shop without
    cases is answered from the trade lists alone. Chances of `causes` and `unlisted` sum to 1. Raises
    MalformedCode for a code that cannot be.
    """
    reckoned = reckon(complaint, snapshot, leave_out=leave_out, candidates=candidates, tuning=tuning)
    cases = reckoned.cases
    shown = explained(cases[:limit], reckoned.compared)
    return _answer(reckoned, (*shown, *cases[limit:]), limit=limit, snapshot=snapshot, terms=terms or Terms())


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What was understood, the past cases by likeness with what they share, and the chances of the causes."""

    question: Question
    matches: tuple[Match, ...]
    chances: Posterior
    compared: Compared

    @property
    def cases(self) -> tuple[Match, ...]:
        """The past cases as they are shown: in the light of the evidence and of their causes, and varied."""
        return varied(self.chances.drawn(self.matches))


def reckon(
    complaint: Complaint,
    snapshot: Snapshot,
    *,
    leave_out: frozenset[str] = frozenset(),
    candidates: tuple[Candidate, ...] | None = None,
    tuning: Tuning = SHIPPED_TUNING,
) -> Reckoned:
    """The chances of the causes for a complaint, without a plan; everything as `advise` has it."""
    question = understand(complaint, snapshot, leave_out=leave_out)
    found = candidates
    if found is None:
        found = snapshot.candidates(question, limit=COMPARED, leave_out=leave_out)
    compared = compare(question, found, snapshot)
    matched = as_matches(compared, tuning.weights)
    left_out = [snapshot.cases[id] for id in sorted(leave_out) if id in snapshot.cases]
    tally = snapshot.tally.changed(removed=left_out) if left_out else snapshot.tally
    chances = posterior(
        question, matched, snapshot, tally=tally, temperature=tuning.temperature, trust=tuning.trust
    )
    return Reckoned(question, matched, chances, compared)


def _answer(
    reckoned: Reckoned, cases: tuple[Match, ...], *, limit: int, snapshot: Snapshot, terms: Terms
) -> Advice:
    question, chances = reckoned.question, reckoned.chances
    ahead = plan(chances, question, snapshot, terms=terms)
    causes = shown(chances)
    heard = {known.symptom: known.chance for known in question.heard if known.chance >= HEARD_AT_LEAST}
    return Advice(
        cases=cases[:limit],
        causes=causes,
        unlisted=chances.unlisted,
        tests=ahead.tests,
        next=ahead.next,
        readings=question.judged,
        read_as=question.read_as,
        cautions=ahead.cautions,
        revision=snapshot.revision,
        symptoms=tuple(heard),
        dropped=chances.dropped,
        conflicts=chances.conflicts,
        ruled_out=ruled_out_before(question, cases, chances),
        price=price_span(cases, terms),
        questions=questions(question, chances),
        car=question.car,
        heard=heard,
    )


def shown(chances: Posterior) -> tuple[CauseChance, ...]:
    """The likeliest causes, as many as leave at most 0.1 % unnamed, and at most 100; at least one.

    What is left unnamed is shared out among the named, so that `unlisted` means none that is known here.
    """
    return chances.causes.shared_out(1.0 - chances.unlisted, most=MOST_CAUSES, unnamed=LEAST_UNNAMED)
