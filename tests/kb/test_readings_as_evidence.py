"""Readings worked out and parts tried reach the advice: shown, weighed, and named at the replacement."""

from baylore_kb import Complaint, Snapshot, advise
from baylore_kb.values import Case, PartTried, Reading, TestDone, Vehicle

EMPTY = Snapshot.build([])
GAS = {"refrigerant": "R134a", "ambient_c": 30}


def read(quantity, value, unit, **conditions):
    return Reading(quantity, value, unit, conditions=conditions)


def ask(text, *readings, snapshot=EMPTY, **more):
    return advise(Complaint(text, readings=readings, **more), snapshot)


def chances(answer):
    return {row.cause: row.probability for row in answer.causes}


def test_a_fuse_that_alone_draws_too_much_speaks_for_a_drain():
    plain, measured = (
        ask("battery flat overnight"),
        ask("battery flat overnight", read("fuse_mv", 4, "mV", fuse_rating_a=15)),
    )
    drain = "body_elec.accessory.drain"
    assert chances(measured)[drain] > 2 * chances(plain)[drain]
    (row,) = [row for row in measured.causes if row.cause == drain]
    assert any("Key-off current draw" in moved.by for moved in row.moved)


def test_both_trims_decide_together_what_one_alone_does_not():
    lean = read("ltft", 6, "%"), read("stft", 2, "%")
    alone, both = ask("rough idle", lean[0]), ask("rough idle", *lean)
    moved = {by.by for row in both.causes for by in row.moved} - {
        by.by for row in alone.causes for by in row.moved
    }
    assert any("Total fuel trim" in each for each in moved)


def test_what_was_worked_out_is_shown_after_what_was_measured():
    answer = ask("ac not cold", read("ac_high_run", 900, "kPa", **GAS), read("ac_liquid_temp", 38, "C"))
    assert [row.reading.quantity for row in answer.readings] == [
        "ac_high_run",
        "ac_liquid_temp",
        "ac_subcool",
    ]
    assert answer.readings[2].verdict == "low_charge"


def test_a_past_case_with_the_same_subcooling_is_found_for_it():
    def case(name, kpa, pipe):
        readings = read("ac_high_run", kpa, "kPa", **GAS), read("ac_liquid_temp", pipe, "C")
        cause = "aircon.refrigerant.low_level"
        return Case(
            name,
            Complaint("ac poor", Vehicle(), readings=readings),
            state="closed",
            cause=cause,
            verified=True,
        )

    shop = Snapshot.build([case("alike", 900, 38), case("apart", 1700, 50)])
    hot = {"refrigerant": "R134a", "ambient_c": 38}
    answer = ask(
        "ac poor", read("ac_high_run", 1300, "kPa", **hot), read("ac_liquid_temp", 50.6, "C"), snapshot=shop
    )
    first = answer.cases[0]
    assert first.case.id == "alike"
    assert any("subcooling" in words for words in first.why.readings)


def test_a_replacement_names_the_source_the_shops_memory_favours():
    def case(name, source, result, price):
        part = PartTried("ignition.coil", source, result, price)
        return Case(
            name,
            Complaint("misfire", parts=(part,)),
            state="closed",
            cause="ignition.coil.weak",
            verified=True,
        )

    held = [case(f"a{n}", "aftermarket", "no change", 25.0) for n in range(5)]
    held += [case(f"m{n}", "maker", "cured", 70.0) for n in range(5)]
    coil = {"symptoms": ("misfire_load", "cel_flash"), "codes": ("P0303",)}
    answer = advise(_done(coil), Snapshot.build(held))
    assert (answer.next.do, answer.next.component, answer.next.part_source) == (
        "replace",
        "ignition.coil",
        "maker",
    )


def _done(coil):
    from_tests = (("mf_counters", "one"), ("coil_swap", "followed"))
    tests = tuple(TestDone(test, outcome) for test, outcome in from_tests)
    return Complaint("jerks uphill, light blinks", tests=tests, **coil)


def test_a_safety_part_is_wanted_from_the_maker_however_well_copies_did():
    part = PartTried("abs_stab.sensor", "aftermarket", "cured", 20.0)
    cause = "abs_stab.sensor.no_signal"
    held = [
        Case(f"c{n}", Complaint("abs lamp", parts=(part,)), state="closed", cause=cause) for n in range(6)
    ]
    steps = (
        "scan_all:all_answer",
        "wheel_speeds:dead",
        "abs_wiggle:steady",
        "ring_look:ok",
        "wss_signal:bad_both",
    )
    tests = tuple(TestDone(*step.split(":")) for step in steps)
    asked = Complaint("ABS light", symptoms=("abs_false", "abs_lamp"), codes=("C0035",), tests=tests)
    answer = advise(asked, Snapshot.build(held))
    assert (answer.next.component, answer.next.part_source) == ("abs_stab.sensor", "maker")
