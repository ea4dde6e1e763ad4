from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.tally import Tally
from baylore_kb.values import Case, Complaint, Correction, Labour, PartTried, TestDone

CAUSES = ("starting.starter.worn", "charging.battery.weak", "own.wet_joint")


def case(number, *, cause=CAUSES[0], verified=True, tests=(), parts=(), state="closed", **more):
    said = Complaint("no crank", tests=tuple(tests), parts=tuple(parts))
    return Case(f"c{number}", said, state=state, cause=cause, verified=verified, **more)


def test_a_verified_cure_counts_one_and_an_unverified_one_half():
    tally = Tally.of([case(1), case(2, verified=False)])
    assert tally.causes == {"starting": {"starting.starter.worn": 1.5}}


def test_a_case_that_came_back_counts_half():
    assert Tally.of([case(1, returned_as=("c2",))]).causes["starting"]["starting.starter.worn"] == 0.5


def test_open_and_unresolved_cases_count_nothing():
    tally = Tally.of([case(1, state="open"), case(2, cause=None, state="unresolved")])
    assert tally == Tally()


def test_a_repeated_test_counts_once_with_its_later_outcome():
    tests = [TestDone("crank_v_test", "ok"), TestDone("crank_v_test", "high")]
    tally = Tally.of([case(1, tests=tests)])
    assert tally.outcomes_of("crank_v_test") == {(CAUSES[0], "high"): 1.0}


def test_an_outcome_seen_while_the_fault_was_away_is_not_counted():
    tally = Tally.of([case(1, tests=[TestDone("crank_v_test", "ok", fault_present=False)])])
    assert tally.outcomes_of("crank_v_test") == {}


def test_own_causes_stand_under_the_system_they_were_given():
    tally = Tally.of([case(1, cause=CAUSES[2], cause_system="network"), case(2, cause=CAUSES[2])])
    assert tally.causes == {"network": {CAUSES[2]: 1.0}, "": {CAUSES[2]: 1.0}}


def test_corrections_labour_minutes_and_prices_are_summed_by_weight():
    part = PartTried("starting.starter", "maker", price=210.0)
    mended = {"correction": Correction("replace", None, "new starter"), "labour": Labour(repair_min=60)}
    first = case(1, tests=[TestDone("crank_v_test", "ok", minutes=4)], parts=[part], **mended)
    tally = Tally.of([first, case(2, verified=False, labour=Labour(repair_min=90))])
    assert tally.corrections == {CAUSES[0]: {"new starter": 1.0}}
    assert tally.labour[CAUSES[0]].mean == 70.0
    assert tally.minutes["crank_v_test"].mean == 4.0
    assert tally.prices["starting.starter"].mean == 210.0


def test_counts_handed_out_before_do_not_change():
    before = Tally.of([case(1)])
    before.changed(added=[case(2)], removed=[case(1)])
    assert before == Tally.of([case(1)])


CASES = st.lists(
    st.builds(
        lambda cause, verified, outcome: (cause, verified, outcome),
        st.sampled_from(CAUSES),
        st.booleans(),
        st.sampled_from(["ok", "low", "high"]),
    ),
    max_size=12,
)


@given(CASES, st.data())
def test_taking_cases_out_again_equals_never_counting_them(rows, data):
    cases = [
        case(n, cause=cause, verified=verified, tests=[TestDone("crank_v_test", outcome)])
        for n, (cause, verified, outcome) in enumerate(rows)
    ]
    gone = {c.id for c in cases if data.draw(st.booleans())}
    out = [c for c in cases if c.id in gone]
    assert Tally.of(cases).changed(removed=out) == Tally.of([c for c in cases if c.id not in gone])
