"""The job note and the title that write themselves."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import values as kb
from baylore_kb.readings import judge
from baylore_kb.trade import load
from baylore_service.desk import note
from baylore_service.store import records as r
from baylore_service.store.drafts import own_words

AT = datetime(2026, 3, 11, 9, 20, tzinfo=UTC)
TRADE = load()
CAUSE = "starting.ground_cable.high_resistance"
CAR = kb.Vehicle(2006, "Kessby", "Marl", "1.5 diesel", odometer=kb.Measure(231_000.0, "km"))
OPEN = r.CaseFile("c", 1, "open", "", AT, None, AT, "One click and nothing.  Mostly after\na drive", CAR)


def stamped(n: int) -> r.Stamp:
    """The stamp of the nth step."""
    return r.Stamp(str(n), AT, "Ivo")


def done(*tests: kb.TestDone) -> tuple[r.TestStep, ...]:
    """Tests as steps."""
    return tuple(r.TestStep(stamped(n), test) for n, test in enumerate(tests))


def written(file: r.CaseFile) -> dict[str, str]:
    """The note by the label of its lines."""
    text = note.text(file, TRADE, [judge(step.reading, TRADE) for step in file.readings])
    return dict(line.split(": ", 1) for line in text.splitlines())


JOB = replace(
    OPEN,
    state="closed",
    codes=("P0335",),
    readings=(
        r.ReadingStep(
            stamped(1), kb.Reading("drop_neg", 8.7, "volt", "block to - post", conditions={"crank_a": 35.0})
        ),
        r.ReadingStep(
            stamped(2), kb.Reading("drop_neg", 0.12, "volt", "block to - post", "after", {"crank_a": 240.0})
        ),
    ),
    tests=done(
        kb.TestDone("crank_drop_pos", "ok", 4.0),
        kb.TestDone("crank_drop_neg", "high", 4.0, "jump lead to the block: cranks at once"),
    ),
    parts=(
        r.PartStep(stamped(5), kb.PartTried("starting.starter", "used", "no change", 40.0, "same click")),
        r.PartStep(stamped(6), kb.PartTried("starting.ground_cable", "own stock", "cured", 18.0)),
    ),
    cause=CAUSE,
    cause_title=TRADE.causes[CAUSE].title,
    confirmed_by="crank_drop_neg",
    correction=kb.Correction("replace", "starting.ground_cable", "lug face cleaned"),
    verification="ten hot starts",
    note="check this cable first on these",
)


def test_a_note_tells_the_job_in_the_order_it_went() -> None:
    assert list(written(JOB)) == [
        "Complaint",
        "Measured",
        "Tested",
        "Ruled out",
        "Cause",
        "Done",
        "Did not cure",
        "Afterwards",
        "Checked",
        "Also",
    ]


def test_a_note_says_what_was_found_and_done() -> None:
    lines = written(JOB)
    assert lines["Complaint"] == (
        "One click and nothing. Mostly after a drive; 2006 Kessby Marl 1.5 diesel at 231,000 km; P0335."
    )
    assert "8.7 V at block to - post (high)" in lines["Measured"] and "0.12 V" in lines["Afterwards"]
    assert "jump lead to the block: cranks at once" in lines["Tested"]
    assert lines["Cause"].startswith(f"{TRADE.causes[CAUSE].title}; confirmed by: ")
    assert lines["Done"].startswith("replace ") and lines["Done"].endswith(", lug face cleaned.")
    assert lines["Did not cure"].endswith("from used, 40.00: no change (same click).")
    assert lines["Also"] == "check this cable first on these."


TRIED = replace(
    OPEN,
    comes_and_goes=True,
    shows_when=("hot", "rain"),
    parts=(
        r.PartStep(
            stamped(1),
            kb.PartTried(
                "cooling.fan_motor", "aftermarket", "partly", 60.0, "lamp out but\nfan still stays off"
            ),
        ),
        r.PartStep(stamped(2), kb.PartTried("starting.starter", "used", "partly")),
        r.PartStep(stamped(3), kb.PartTried("starting.starter", "maker", "failed later")),
    ),
    repairs=(
        r.RepairStep(stamped(4), kb.RepairTried(CAUSE, "no change", 20.0, "lugs cleaned")),
        r.RepairStep(stamped(5), kb.RepairTried("own.mouse_nest", "partly", note="still one click")),
        r.RepairStep(stamped(6), kb.RepairTried(CAUSE, "cured")),
    ),
    skipped=(r.SkipStep(stamped(7), kb.Skipped("crank_drop_pos", "no tool", "meter lent out")),),
    objections=(r.ObjectionStep(stamped(8), kb.Objected("starting.starter.worn", "already renewed")),),
)


def test_a_half_cure_tells_what_stayed_wrong() -> None:
    half = written(TRIED)["Half cured"]
    assert "fan motor from aftermarket, 60.00: partly, lamp out but fan still stays off" in half
    assert "starter motor from used: partly, what stayed wrong is not said" in half
    assert half.endswith("repair of mouse nest: partly, still one click.")


def test_repairs_stand_where_their_result_belongs() -> None:
    lines = written(TRIED)
    assert lines["Did not cure"].startswith("starter motor from maker: failed later; repair of ")
    assert lines["Did not cure"].endswith(": no change (lugs cleaned).")
    assert lines["Done"].endswith(": cured.")


def test_doubts_and_what_was_not_tested_are_told_in_plain_words() -> None:
    lines = written(TRIED)
    assert lines["Held to be wrong"] == "starter brushes or armature worn: already renewed."
    assert lines["Not tested"].endswith(": no tool (meter lent out).")
    assert lines["Shows"] == "comes and goes; hot, after a drive; rain, wash or damp."


def test_what_was_tried_is_not_read_a_second_time_as_words() -> None:
    text = note.text(replace(TRIED, note="ask for the old part"), TRADE, [])
    assert own_words(text) == "ask for the old part."


def test_a_verdict_that_could_not_be_given_is_not_written() -> None:
    reading = kb.Reading("drop_neg", 8.7, "volt")
    judged = kb.Judged(reading, None, "unknown", "", "")
    assert note.reading(judged, TRADE).endswith("8.7 V")


def test_what_an_outcome_makes_rare_is_ruled_out_but_never_the_cause_itself() -> None:
    ruled = note.ruled_out(JOB, TRADE)
    rows = {
        row.name: row for test in ("crank_drop_pos", "crank_drop_neg") for row in TRADE.tests[test].likelihood
    }
    assert ruled and all(CAUSE not in rows[name].causes for name in ruled)
    assert "anything else" not in ruled


def test_an_ok_while_the_fault_was_away_rules_out_nothing() -> None:
    away = replace(JOB, tests=done(kb.TestDone("crank_drop_pos", "ok", fault_present=False)))
    assert note.ruled_out(away, TRADE) == [] and "fault away at the time" in written(away)["Tested"]


def test_of_a_test_done_twice_the_later_rules_out() -> None:
    twice = replace(
        OPEN, tests=done(kb.TestDone("crank_drop_pos", "ok"), kb.TestDone("crank_drop_pos", "high"))
    )
    once = replace(OPEN, tests=done(kb.TestDone("crank_drop_pos", "high")))
    assert note.ruled_out(twice, TRADE) == note.ruled_out(once, TRADE)


def test_a_title_is_the_first_sentence_and_gains_the_cause() -> None:
    assert note.title(OPEN) == "One click and nothing"
    assert note.title(JOB) == "One click and nothing: battery negative cable corroded"
    gone = replace(OPEN, state="unresolved", unresolved_reason="declined")
    assert note.title(gone) == "One click and nothing: declined"


def test_a_case_with_nothing_but_its_complaint_has_a_note_of_one_line() -> None:
    assert list(written(replace(OPEN, vehicle=kb.Vehicle()))) == ["Complaint"]


words = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)


@given(words, words, words)
def test_any_words_give_a_note_and_a_title_that_can_be_kept(complaint: str, said: str, own: str) -> None:
    file = replace(JOB, complaint_text=complaint, verification=said, note=own)
    text = note.text(file, TRADE, [])
    assert len(text) <= 8000 and len(note.title(file)) <= 200
    assert "\n" not in note.title(file) and "" not in text.split("\n")


@given(words.filter(lambda text: " ".join(text.split()).strip(" .;")))
def test_what_a_member_wrote_comes_through_the_note_to_the_engine(own: str) -> None:
    text = note.text(replace(JOB, note=own), TRADE, [])
    assert own_words(text).split() == f"{' '.join(own.split()).rstrip('.; ')}.".split()


@given(st.lists(st.sampled_from(sorted(TRADE.tests)), max_size=6), st.data())
def test_any_tests_and_outcomes_of_the_lists_are_told(ids: list[str], data: st.DataObject) -> None:
    tests = [
        kb.TestDone(id, data.draw(st.sampled_from([each.id for each in TRADE.tests[id].outcomes])))
        for id in ids
    ]
    lines = written(replace(OPEN, tests=done(*tests)))
    assert ("Tested" in lines) == bool(tests)
