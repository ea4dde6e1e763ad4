"""Work done once for each object."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from weakref import ref

from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.once_each import MOST_KEPT, once_each, once_for_two


class Counted:
    """Counts what it was asked to make."""

    def __init__(self) -> None:
        self.made: list[object] = []

    def __call__(self, it: list[int]) -> tuple[int, ...]:
        self.made.append(it)
        return tuple(it)


def test_an_object_is_worked_on_once_and_an_equal_one_again() -> None:
    counted = Counted()
    once, one, equal = once_each(counted), [1], [1]
    assert once(one) is once(one) and once(equal) == once(one)
    assert len(counted.made) == 2


def test_those_not_asked_for_longest_make_room() -> None:
    counted = Counted()
    once, many = once_each(counted), [[n] for n in range(MOST_KEPT + 1)]
    for it in (*many, many[-1], many[0]):
        once(it)
    assert counted.made == [*many, many[0]]


class Watched(list[int]):
    """Can be watched, as a plain list cannot."""


def test_an_object_that_nobody_needs_is_let_go_and_one_in_its_place_is_worked_on() -> None:
    counted = Counted()
    once, it = once_each(lambda it: counted([*it])), Watched([1])
    assert once(it) == (1,)
    watch = ref(it)
    del it
    assert watch() is None
    for n in range(3 * MOST_KEPT):
        assert once(Watched([n])) == (n,)


def test_two_objects_are_worked_on_once_and_each_with_another_again() -> None:
    made: list[tuple[str, ...]] = []
    once = once_for_two(lambda one, other: made.append((*one, *other)))
    lists, counts, more = ["lists"], ["counts"], ["more"]
    for one, other in ((lists, counts), (lists, counts), (lists, more), (more, counts)):
        once(one, other)
    assert made == [("lists", "counts"), ("lists", "more"), ("more", "counts")]


def test_many_threads_and_more_objects_than_are_kept_always_get_their_own() -> None:
    once, many = once_each(lambda it: tuple(it)), [[n] for n in range(3 * MOST_KEPT)]
    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(lambda n: once(many[n % len(many)]), range(4000)))
    assert found == [(n % len(many),) for n in range(4000)]


@given(st.lists(st.integers(0, 2 * MOST_KEPT), max_size=60))
def test_whatever_the_order_of_asking_the_answer_is_the_objects_own(asked: list[int]) -> None:
    once, many = once_each(lambda it: tuple(it)), [[n] for n in range(2 * MOST_KEPT + 1)]
    assert [once(many[n]) for n in asked] == [(n,) for n in asked]
