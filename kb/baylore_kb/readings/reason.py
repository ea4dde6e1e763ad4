"""Say in plain words why a reading got its verdict."""

from __future__ import annotations

from collections.abc import Callable

from baylore_kb.physics import drop_resistance_ohm, fuse_current_a, state_of_charge_pct, vent_band_c
from baylore_kb.readings.expected import Range
from baylore_kb.readings.given import Given, told
from baylore_kb.trade.model import Quantity, Trade
from baylore_kb.units import shown
from baylore_kb.values import Band, Reading

Extra = Callable[[float, Given, str], str]


def reason(
    reading: Reading,
    quantity: Quantity,
    own: float,
    *,
    limits: Range,
    band: Band,
    known: Given,
    word: str,
    trade: Trade,
) -> str:
    """One or two sentences with the numbers, the conditions used, what was assumed, and what follows."""
    value = shown(reading.value, reading.unit)
    conditions = told(quantity, known, limits.uses, trade)
    beside = f" at {conditions}" if conditions else ""
    first = f"{value} is {_against(own, limits, band)}{beside}."
    extra = _EXTRA.get(quantity.id)
    further = extra(own, known, word) if extra else ""
    note = f"Note: {quantity.expected.note}." if quantity.expected.note else ""
    return " ".join(part for part in (first, further, note, _maker(quantity), _unheard(known)) if part)


def _unheard(known: Given) -> str:
    names = ", ".join(repr(name[:40]) for name in known.unheard)
    return f"Not used, no condition goes by that name: {names}." if names else ""


def _against(own: float, limits: Range, band: Band) -> str:
    """Where the value lies: "below the 12.4 to 12.9 V expected", "above the limit of 100 mV"."""
    if band.low is None and band.high is None:
        return "within what is usual"
    if band.low is None:
        return f"{_side(own > limits.high)} the limit of {shown(band.high or 0.0, band.unit)}"
    if band.high is None:
        return f"{_side(own >= limits.low)} the least of {shown(band.low, band.unit)}"
    return f"{_place(own, limits)} the {band.low:g} to {shown(band.high, band.unit)} expected"


def _side(over: bool) -> str:
    return "above" if over else "below"


def _place(own: float, limits: Range) -> str:
    if own < limits.low:
        return "below"
    return "above" if own > limits.high else "within"


def _maker(quantity: Quantity) -> str:
    rough = quantity.expected.kind == "maker"
    return "The range is a rough fallback: the maker's figure decides." if rough else ""


def _static(own: float, known: Given, word: str) -> str:
    says = {
        "liquid_present": "Some liquid refrigerant is there; this says nothing about how much.",
        "low": "Too low for any liquid to be left: nearly empty.",
        "empty": "Near zero: the system is empty.",
        "high_air_or_overcharge": "Air, the wrong gas, or parts not yet at the air's temperature.",
    }
    return says.get(word, "")


def _charge(own: float, known: Given, word: str) -> str:
    temperature = known.values.get("battery_temp_c")
    flooded = known.values.get("battery_type") != "agm"
    if not flooded or not isinstance(temperature, float) or not 6.0 <= own <= 15.0:
        return ""
    charge = state_of_charge_pct(own, temperature)
    return f"That is about {charge:.0f} % charged for a rested flooded battery."


def _behind(own: float, known: Given, word: str) -> str:
    current = known.values.get("load_a", known.values.get("crank_a", known.values.get("charge_a")))
    if not isinstance(current, float) or current < 0.1:
        return "Only a reading under load counts."
    return f"That is {drop_resistance_ohm(own, current) * 1000.0:.3g} mΩ at {shown(current, 'A')}."


def _through_fuse(own: float, known: Given, word: str) -> str:
    rating = known.values.get("fuse_rating_a")
    if not isinstance(rating, float) or not 5.0 <= rating <= 30.0:
        return "With the fuse's rating this can be turned into a current."
    low, likely, high = (amps * 1000.0 for amps in fuse_current_a(own, rating))
    return f"Through a {rating:g} A blade fuse that is about {likely:.3g} mA ({low:.3g} to {high:.3g})."


def _vent(own: float, known: Given, word: str) -> str:
    ambient, humidity = known.values.get("ambient_c"), known.values.get("humidity_pct")
    if not isinstance(ambient, float) or not isinstance(humidity, float):
        return "Humidity moves this by several degrees: write it down too."
    if not (15.0 <= ambient <= 50.0 and 5.0 <= humidity <= 100.0):
        return ""
    low, high = vent_band_c(ambient, humidity)
    return f"At {humidity:.0f} % humidity a good car gives about {low:.0f} to {high:.0f} °C (own model)."


_EXTRA: dict[str, Extra] = {
    "ac_static": _static,
    "ac_vent_temp": _vent,
    "batt_rest": _charge,
    "drop_pos": _behind,
    "drop_neg": _behind,
    "drop_gnd": _behind,
    "drop_feed": _behind,
    "drop_switch": _behind,
    "alt_drop": _behind,
    "fuse_mv": _through_fuse,
}
