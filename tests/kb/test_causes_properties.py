"""What holds of the chances whatever is said: order, units and wording of the question do not matter."""

import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.kb.causes_asked import CLICK, EMPTY, TRADE, after, chances, past, total

from baylore_kb.causes import beliefs_of
from baylore_kb.causes.evidence import REPRODUCES
from baylore_kb.values import Complaint, Measure, Objected, PartTried, Reading, RepairTried, TestDone, Vehicle

SEEDS = st.integers(0, 10_000)
COMPONENTS = sorted({cause.component for cause in TRADE.causes.values()})
COLD = {"battery_temp_c": Measure(9, "degC")}


def some_tests(chance, count):
    tests = [TRADE.tests[name] for name in chance.sample(sorted(TRADE.tests), count)]
    return [TestDone(t.id, chance.choice(t.outcomes).id, fault_present=chance.random() < 0.9) for t in tests]


def some_job(seed):
    """A muddled job: several tests, parts, repairs and objections about one symptom."""
    chance = random.Random(seed)
    causes = chance.sample(sorted(TRADE.causes), 4)
    return Complaint(
        "",
        Vehicle(engine=chance.choice(["1.6 petrol", "2.0 diesel", ""])),
        symptoms=tuple(chance.sample(sorted(TRADE.symptoms), 2)),
        codes=tuple(chance.sample(["P0301", "C0035", "U0100", "B1342", "P0442"], 2)),
        tests=tuple(some_tests(chance, 4)),
        parts=tuple(
            PartTried(part, chance.choice(["maker", "used"]), chance.choice(["cured", "partly", "no change"]))
            for part in chance.sample(COMPONENTS, 2)
        ),
        repairs=(RepairTried(causes[0], chance.choice(["cured", "partly", "no change"])),),
        objections=(Objected(causes[1], "proved good"), Objected(causes[2], "does not fit")),
        comes_and_goes=chance.random() < 0.3,
    )


def asked(job, matches=()):
    return after(*job.tests, complaint=job, matches=matches)


@given(SEEDS)
def test_chances_of_a_muddled_job_sum_to_one_and_none_is_certain(seed):
    found = asked(some_job(seed))
    assert total(found) == pytest.approx(1.0)
    assert all(0 < row.probability < 1 for row in found.causes) and 0.02 <= found.unlisted < 1


@given(SEEDS)
def test_the_order_of_what_was_done_and_said_does_not_matter(seed):
    job, chance = some_job(seed), random.Random(seed)
    fields = ("symptoms", "codes", "tests", "parts", "repairs", "objections")
    mixed = {name: tuple(chance.sample(getattr(job, name), len(getattr(job, name)))) for name in fields}
    assert chances(asked(replace(job, **mixed))) == pytest.approx(chances(asked(job)), rel=1e-6, abs=1e-12)


@given(SEEDS)
def test_the_order_of_the_past_cases_does_not_matter(seed):
    chance = random.Random(seed)
    matches = [past(n, chance.choice(sorted(TRADE.causes)), chance=chance.random()) for n in range(6)]
    mixed = chance.sample(matches, len(matches))
    one, other = (after(TestDone("batt_test", "ok"), matches=each) for each in (matches, mixed))
    assert chances(other) == pytest.approx(chances(one), rel=1e-9)
    assert [row.from_cases for row in other.causes] == [row.from_cases for row in one.causes]


@given(st.floats(6.0, 14.0), st.sampled_from([("mV", 1000.0), ("kV", 0.001)]))
def test_the_unit_of_a_reading_does_not_matter(volts, other):
    unit, times = other
    plain = after(readings=(Reading("crank_v", volts, "V", conditions=COLD),))
    same = after(readings=(Reading("crank_v", volts * times, unit, conditions=COLD),))
    assert chances(same) == pytest.approx(chances(plain))


@given(SEEDS)
def test_taking_a_test_back_gives_the_earlier_answer(seed):
    job = some_job(seed)
    before = asked(replace(job, tests=job.tests[:-1]))
    asked(job)
    assert asked(replace(job, tests=job.tests[:-1])).causes == before.causes


@given(SEEDS)
def test_an_outcome_that_no_other_cause_shows_more_never_lowers_its_causes(seed):
    """Holds for a test that shares no circuit with those done: such a one tempers them."""
    chance = random.Random(seed)
    test = TRADE.tests[chance.choice(sorted(TRADE.tests))]
    outcome = chance.choice(test.outcomes).id
    row = beliefs_of(TRADE).row(test.id, outcome)
    best = [cause for cause, share in zip(sorted_causes(), row[:-1], strict=True) if share >= row.max()]
    symptom = TRADE.causes[best[0]].symptoms[:1] if best else ("no_crank_click",)
    before, found = (
        after(*t, complaint=Complaint("", symptoms=symptom)) for t in ((), (done(test, outcome),))
    )
    assert all(found.chance(cause) >= before.chance(cause) - 1e-9 for cause in best[:5])


def sorted_causes():
    return beliefs_of(TRADE).causes


def done(test, outcome):
    return TestDone(test.id, outcome)


@given(st.sampled_from(["maker", "used", "rebuilt", "aftermarket", "own stock"]), st.sampled_from(COMPONENTS))
def test_a_part_that_changed_nothing_never_raises_its_own_causes(source, component):
    mended = [c.id for c in TRADE.causes.values() if c.component == component]
    symptoms = (TRADE.causes[mended[0]].symptoms[0],)
    job = Complaint("", symptoms=symptoms)
    before, found = (
        after(complaint=job),
        after(complaint=job, parts=(PartTried(component, source, "no change"),)),
    )
    by_part = [cause for cause in mended if beliefs_of(TRADE).by_part[beliefs_of(TRADE).cause_at[cause]]]
    assert all(found.chance(cause) < before.chance(cause) for cause in by_part)


@given(SEEDS)
def test_every_factor_told_is_the_change_of_odds_without_that_test(seed):
    """Holds but for the test that shows a fault to come and go: the others are read by it."""
    tests = [done for done in some_tests(random.Random(seed), 4) if done.test != REPRODUCES]
    found, without = after(*tests), after(*tests[:-1])
    title = TRADE.tests[tests[-1].test].title
    for row in found.causes[:12]:
        told = next((moved.factor for moved in row.moved if moved.by.startswith(f"{title}: ")), None)
        odds = [x.chance(row.cause) / (1.0 - x.chance(row.cause)) for x in (found, without)]
        assert told is None or told == pytest.approx(odds[0] / odds[1], rel=1e-6)


def test_nothing_at_all_is_a_broad_answer_and_the_same_for_all():
    assert after(complaint=Complaint("")).causes == after(complaint=Complaint(""), shop=EMPTY).causes
    assert after(complaint=CLICK).unlisted < after(complaint=Complaint("")).unlisted
