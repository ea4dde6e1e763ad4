"""Say in plain words why a reading got its verdict."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from baylore_kb.physics import (
    COLDEST_C,
    HOTTEST_C,
    drop_resistance_ohm,
    fuse_current_a,
    state_of_charge_pct,
    static_pressure_kpa,
    vent_band_c,
)
from baylore_kb.readings.expected import Range, Unknown
from baylore_kb.readings.given import Given, told
from baylore_kb.readings.measured import air_between
from baylore_kb.readings.span import Span, stretches_told
from baylore_kb.trade.model import Condition, Quantity, Trade
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
    value = typed(reading, quantity, own, known=known)
    conditions = told(quantity, known, limits.uses, trade)
    beside = f" at {conditions}" if conditions else ""
    first = f"{value} is {_against(own, limits, band)}{beside}."
    extra = _EXTRA.get(quantity.id)
    further = extra(own, known, word) if extra else ""
    note = f"Note: {quantity.expected.note}." if quantity.expected.note else ""
    return " ".join(part for part in (first, further, note, _maker(quantity), _unheard(known)) if part)


def typed(reading: Reading, quantity: Quantity, own: float, *, known: Given) -> str:
    """The value as typed; with the quantity's own beside it where their zeros differ."""
    plain = shown(reading.value, reading.unit)
    air = air_between(reading, quantity, known)
    if not air:
        return plain
    zero = "absolute" if air > 0.0 else "gauge"
    return f"{plain}, {shown(own, quantity.unit)} {zero} at {shown(abs(air), 'kPa')} of air,"


def reason_unsaid(
    quantity: Quantity, limits: Unknown, *, value: str, span: Span | None, band: Band | None, trade: Trade
) -> str:
    """What to give so that the reading can be judged, and what is possible meanwhile (`span`, `band`)."""
    missing = [trade.conditions[name] for name in limits.needs if name in trade.conditions]
    ask = f" Please give: {_titles(missing)}." if missing else ""
    meanwhile = _meanwhile(value, span, band, missing) if span and band else ""
    return f"{quantity.title}: {limits.why}.{ask}{meanwhile}"


def reason_whatever(
    quantity: Quantity, own: float, *, value: str, known: Given, span: Span, missing: Sequence[Condition]
) -> str:
    """Why a verdict holds for all usual values of what is `missing`, and what follows from it."""
    word = span.word or "unknown"
    extra = _EXTRA.get(quantity.id)
    sure = {name: value for name, value in known.values.items() if name not in {each.id for each in missing}}
    further = extra(own, replace(known, values=sure), word) if extra else ""
    closer = f"For a closer range give: {_titles(missing)}."
    first = f"{value} is {word.replace('_', ' ')} for any {span.over}."
    return " ".join(part for part in (first, further, _maker(quantity), closer) if part)


def _titles(missing: Sequence[Condition]) -> str:
    return "; ".join(each.title for each in missing)


def _meanwhile(value: str, span: Span, band: Band, missing: Sequence[Condition]) -> str:
    told = stretches_told(span, missing[0]) if len(missing) == 1 else ""
    by = f" {value} is {told}." if told else ""
    return f" Meanwhile {_reach(band)} is possible for {span.over}.{by}"


def _reach(band: Band) -> str:
    if band.low is None:
        return f"up to {shown(band.high or 0.0, band.unit)}"
    if band.high is None:
        return f"{shown(band.low, band.unit)} and more"
    return f"{band.low:g} to {shown(band.high, band.unit)}"


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
    return f"{says.get(word, '')}{_from_saturation(own, known, word)}"


def _from_saturation(own: float, known: Given, word: str) -> str:
    """How far from saturation a static pressure lies, where that tells: " 396 kPa below saturation."."""
    gas, ambient = known.values.get("refrigerant"), known.values.get("ambient_c")
    if word not in ("low", "high_air_or_overcharge") or not (gas and isinstance(ambient, float)):
        return ""
    over = own - static_pressure_kpa(str(gas), ambient, float(known.values.get("altitude_m", 0.0)))
    return f" It is {shown(abs(over), 'kPa')} {'above' if over > 0 else 'below'} saturation."


def _charge(own: float, known: Given, word: str) -> str:
    temperature = known.values.get("battery_temp_c")
    flooded = known.values.get("battery_type") != "agm"
    if not flooded or not isinstance(temperature, float) or not 6.0 <= own <= 15.0:
        return ""
    if not COLDEST_C <= temperature <= HOTTEST_C:
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
    "alt_drop_gnd": _behind,
    "fuse_mv": _through_fuse,
}
