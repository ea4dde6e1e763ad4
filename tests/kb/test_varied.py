"""Past cases are listed as they are worth reading: of each likely cause one comes before its others."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.kb.causes_asked import CABLE, STARTER, past

from baylore_kb.advice import advise
from baylore_kb.index import Snapshot
from baylore_kb.values import Case, Complaint, Vehicle
from baylore_kb.varied import FURTHER, varied

MATCHES = st.lists(
    st.tuples(st.sampled_from([STARTER, CABLE, "own.mouse", None]), st.floats(0.001, 0.99)), max_size=7
)


def best_first(drawn):
    found = [past(n, cause, chance=chance) for n, (cause, chance) in enumerate(drawn)]
    return sorted(found, key=lambda match: (-match.chance, match.case.id))


def ids(matches):
    return [match.case.id for match in matches]


def test_another_cause_comes_before_a_further_case_of_one():
    found = [
        past(1, STARTER, chance=0.6),
        past(2, STARTER, chance=0.5),
        past(3, STARTER, chance=0.4),
        past(4, CABLE, chance=0.3),
        past(5, "own.mouse", chance=0.1),
    ]
    assert ids(varied(found)) == ["c1", "c4", "c2", "c3", "c5"]
    assert varied(()) == ()


def test_cases_not_solved_count_as_of_one_cause():
    found = [past(1, None, chance=0.6), past(2, None, chance=0.5), past(3, CABLE, chance=0.3)]
    assert ids(varied(found)) == ["c1", "c3", "c2"]


@given(MATCHES)
def test_it_loses_nothing_changes_no_chance_and_keeps_each_cause_in_order(drawn):
    matches = best_first(drawn)
    found = varied(matches)
    assert sorted(ids(found)) == sorted(ids(matches)) and found[:1] == tuple(matches[:1])
    assert set(found) == set(matches)
    for cause in {match.case.cause for match in matches}:
        assert [each for each in found if each.case.cause == cause] == [
            each for each in matches if each.case.cause == cause
        ]


@given(MATCHES)
def test_no_other_order_is_worth_more_to_who_reads_from_the_top(drawn):
    """Worth by place, each place counting less: the chance, or its share for a further case of a cause."""
    matches = best_first(drawn)[:5]

    def worth(order):
        read, sum = set(), 0.0
        for place, match in enumerate(order):
            sum += match.chance * (FURTHER if match.case.cause in read else 1.0) / (place + 1)
            read.add(match.case.cause)
        return sum

    best = max(map(worth, permutations(matches)), default=0.0)
    assert worth(varied(matches)) == pytest.approx(best)


def test_the_answer_lists_a_second_cause_among_the_first_cases():
    car = Vehicle(2009, "Tarrow", "Linnet")
    cases = [
        Case(f"s{n}", Complaint("single click, no crank", car), "closed", cause=STARTER, verified=True)
        for n in range(6)
    ]
    cases.append(Case("c", Complaint("click, will not crank", car), "closed", cause=CABLE, verified=True))
    found = advise(Complaint("single click, no crank", car), Snapshot.build(cases)).cases
    assert len(found) == 7 and found[0].case.cause == STARTER
    by_chance = sorted(found, key=lambda match: (-match.chance, match.case.id))
    assert [match.case.id for match in by_chance][-1] == "c" and "c" in [each.case.id for each in found[:3]]
