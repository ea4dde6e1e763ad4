"""A complaint is understood: mended, heard, with codes, parts, readings and traits."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.errors import MalformedCode
from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.values import Case, Complaint, ReadAs, Reading, Vehicle

SHOP = Snapshot.build(
    [Case("c1", Complaint("clutch gap", Vehicle(2009, "Tarrow", "Linnet")), "closed", cause="own.x")]
)


def test_mended_words_and_ambiguous_abbreviations_are_reported():
    question = understand(Complaint("comp dead no clik"), SHOP)
    assert ("clik", "click", "slip") in [(each.typed, each.read, each.kind) for each in question.read_as]
    assert ReadAs("comp", "compressor", "sense") in question.read_as


def test_given_symptoms_are_certain_and_heard_ones_stand_beside_them():
    question = understand(Complaint("one click, no crank", symptoms=("batt_flat_overnight",)), SHOP)
    assert question.heard[0].symptom == "batt_flat_overnight"
    assert question.symptoms["batt_flat_overnight"] == 1.0
    assert 0.5 < question.symptoms["no_crank_click"] < 1.0


def test_codes_of_the_list_come_before_codes_of_the_text():
    assert understand(Complaint("p0420 stored", codes=("p 0301",)), SHOP).codes == ("P0301", "P0420")


def test_a_malformed_given_code_is_refused_with_its_place():
    with pytest.raises(MalformedCode) as refused:
        understand(Complaint("", codes=("P0301", "nonsense")), SHOP)
    assert refused.value.field == "codes[1]"


def test_the_model_is_read_as_the_shop_writes_it():
    assert understand(Complaint("", Vehicle(model="linet")), SHOP).complaint.vehicle.model == "Linnet"


def test_systems_follow_from_symptoms_parts_and_codes():
    assert next(iter(understand(Complaint("ac cold then warm"), SHOP).systems)) == "aircon"
    assert "ignition" in understand(Complaint("P0301"), SHOP).systems


def test_systems_share_the_suspicion_the_first_the_most():
    shares = list(understand(Complaint("ac cold then warm, coolant smell"), SHOP).systems.values())
    assert len(shares) > 1 and sum(shares) == pytest.approx(1.0)
    assert shares == sorted(shares, reverse=True)


def test_readings_are_judged_in_step_and_what_follows_comes_after():
    readings = (Reading("batt_rest", 11.2, "V"), Reading("batt_rest", 12.7, "V"))
    judged = understand(Complaint("", readings=readings), SHOP).judged
    assert [each.reading for each in judged[:2]] == list(readings)
    assert [each.of for each in judged[2:]] == [("batt_rest",)]


def test_traits_of_the_vehicle_are_known():
    question = understand(Complaint("", Vehicle(engine="2.0 diesel")), SHOP)
    assert "diesel" in question.present
    assert "petrol" in question.absent


@given(st.text(max_size=200))
@settings(max_examples=60, deadline=None)
def test_any_text_is_understood(text):
    question = understand(Complaint(text), SHOP)
    assert set(question.symptoms.values()) <= {
        chance for chance in question.symptoms.values() if 0 < chance <= 1
    }
