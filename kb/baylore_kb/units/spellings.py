"""How shops write units: spellings to pint names, and the symbols shown back."""

from __future__ import annotations

import re
import unicodedata

# pint name: symbol shown, then the spellings seen on job notes (compared without case and spaces).
_WRITTEN: dict[str, tuple[str, str]] = {
    "volt": ("V", "v volt volts vdc vac"),
    "millivolt": ("mV", "mv millivolt millivolts"),
    "kilovolt": ("kV", "kv kilovolt kilovolts"),
    "ampere": ("A", "a amp amps ampere amperes adc"),
    "milliampere": ("mA", "ma milliamp milliamps milliampere milliamperes"),
    "microampere": ("µA", "ua µa microamp microamps"),
    "ohm": ("Ω", "ohm ohms ω r"),
    "kiloohm": ("kΩ", "kohm kohms kω kiloohm kiloohms kilohm kilohms k"),
    "milliohm": ("mΩ", "mohm mohms mω milliohm milliohms"),
    "megaohm": ("MΩ", "megohm megohms megaohm megaohms meg"),
    "ohm/volt": ("Ω/V", "ohm/v ohms/volt ohm/volt"),
    "kiloohm/volt": ("kΩ/V", "kohm/v kohm/volt"),
    "watt": ("W", "w watt watts"),
    "kilowatt": ("kW", "kw kilowatt kilowatts"),
    "ampere_hour": ("Ah", "ah amphour amphours amp-hours"),
    "hertz": ("Hz", "hz hertz"),
    "pascal": ("Pa", "pa pascal pascals"),
    "hectopascal": ("hPa", "hpa hectopascal"),
    "kilopascal": ("kPa", "kpa kilopascal kilopascals kpag"),
    "megapascal": ("MPa", "mpa megapascal megapascals"),
    "psi": ("psi", "psi psig lb/in2 lbs/in2 lbf/in2 poundspersquareinch"),
    "bar": ("bar", "bar bars barg"),
    "millibar": ("mbar", "mbar millibar millibars"),
    "absolute_kilopascal": ("kPa abs", "kpaa kpaabs kpa(a) kpa(abs) kpaabsolute"),
    "absolute_psi": ("psia", "psia psiabs psi(a) psi(abs) psiabsolute"),
    "absolute_bar": ("bar abs", "bara barabs bar(a) bar(abs) barabsolute"),
    "inch_Hg": ("inHg", 'inhg in.hg "hg inchhg incheshg inch_hg inchesofmercury inchesmercury'),
    "mmHg": ("mmHg", "mmhg torr millimetershg millimetreshg"),
    "inch_H2O": ("inH2O", 'inh2o in.h2o "h2o inwc inch_h2o inchesofwater incheswater'),
    "micrometer_Hg": ("micron", "micrometer_hg micronshg"),
    "kilogram_force/centimeter**2": ("kgf/cm²", "kg/cm2 kgf/cm2 kg/cm²"),
    "atmosphere": ("atm", "atm atmosphere atmospheres"),
    "degC": ("°C", "°c degc celsius degreesc degreescelsius centigrade ℃"),
    "degF": ("°F", "°f degf fahrenheit degreesf degreesfahrenheit ℉"),
    "delta_degC": ("°C", "delta_degc Δ°c Δc deltac cdiff"),
    "delta_degF": ("°F", "delta_degf Δ°f Δf deltaf fdiff"),
    "meter": ("m", "m meter meters metre metres"),
    "kilometer": ("km", "km kms kilometer kilometers kilometre kilometres"),
    "mile": ("mi", "mi mile miles"),
    "foot": ("ft", "ft foot feet"),
    "inch": ("in", 'in inch inches "'),
    "millimeter": ("mm", "mm millimeter millimeters millimetre millimetres"),
    "centimeter": ("cm", "cm centimeter centimeters centimetre centimetres"),
    "micrometer": ("µm", "um µm micrometer micrometers micrometre micrometres"),
    "kilometer/hour": ("km/h", "km/h kph kmh kmph kilometer/hour kilometre/hour"),
    "mile/hour": ("mph", "mph mile/hour miles/hour mi/h"),
    "rpm": ("rpm", "rpm r/min rev/min revs/min revolutionsperminute 1/min"),
    "gram": ("g", "g gr gram grams gramme grammes"),
    "kilogram": ("kg", "kg kgs kilo kilos kilogram kilograms"),
    "ounce": ("oz", "oz ounce ounces"),
    "pound": ("lb", "lb lbs pound pounds"),
    "gram/second": ("g/s", "g/s g/sec gps gram/second grams/second grams/sec"),
    "kilogram/hour": ("kg/h", "kg/h kg/hr kilogram/hour"),
    "pound/minute": ("lb/min", "lb/min lbs/min pound/minute"),
    "liter": ("L", "l lt liter liters litre litres"),
    "cubic_centimeter": ("cc", "cc ccm cm3 cm³"),
    "percent": ("%", "% percent pct percentage"),
    "degree": ("deg", "deg degs degree degrees °"),
    "count": ("", "count counts times x"),
    "second": ("s", "s sec secs second seconds"),
    "minute": ("min", "min mins minute minutes"),
    "hour": ("h", "h hr hrs hour hours"),
    "day": ("d", "d day days"),
    "newton*meter": ("Nm", "nm n-m n.m n·m newtonmeter newtonmeters newtonmetre newton*meter"),
    "force_pound*foot": (
        "ft-lb",
        "ft-lb ft-lbs ftlb ftlbs ft.lb lb-ft lbft lbf-ft lb.ft footpounds foot-pounds",
    ),
    "force_pound*inch": ("in-lb", "in-lb in-lbs inlb inlbs lb-in lbin inchpounds"),
}

# Spellings with several meanings: what else is measured beside them decides.
_SEVERAL: dict[str, tuple[str, ...]] = {
    "c": ("degC", "delta_degC"),
    "°c": ("degC", "delta_degC"),
    "degc": ("degC", "delta_degC"),
    "celsius": ("degC", "delta_degC"),
    "f": ("degF", "delta_degF"),
    "°f": ("degF", "delta_degF"),
    "degf": ("degF", "delta_degF"),
    "fahrenheit": ("degF", "delta_degF"),
    "kelvin": ("kelvin", "delta_degC"),
    "k": ("kiloohm", "kelvin", "delta_degC"),
    "micron": ("micrometer", "micrometer_Hg"),
    "microns": ("micrometer", "micrometer_Hg"),
    "deg": ("degree", "degC", "delta_degC"),
    "degrees": ("degree", "degC", "delta_degC"),
    "°": ("degree", "degC", "delta_degC"),
    "lb": ("pound", "psi"),
    "lbs": ("pound", "psi"),
    "pounds": ("pound", "psi"),
}

# Only here the case of a letter makes a thousand million.
_EXACT: dict[str, tuple[str, ...]] = {
    "Mohm": ("megaohm",),
    "Mohms": ("megaohm",),
    "M\N{GREEK CAPITAL LETTER OMEGA}": ("megaohm",),
    "M\N{OHM SIGN}": ("megaohm",),
}


# Spellings that say the air outside is not counted; a plain pressure leaves it to the quantity.
GAUGE = frozenset(("kpag", "psig", "barg"))


def folded(text: str) -> str:
    """`text` without case, spaces and the several ways of writing omega, mu and degrees."""
    plain = unicodedata.normalize("NFKC", text).casefold().replace("º", "°").replace("μ", "µ")
    return re.sub(r"\s+", "", plain).rstrip(".")


def _spellings() -> dict[str, tuple[str, ...]]:
    table: dict[str, tuple[str, ...]] = {}
    for unit, (_, words) in _WRITTEN.items():
        for word in (unit, *words.split()):
            table.setdefault(folded(word), (unit,))
    return table | {folded(word): units for word, units in _SEVERAL.items()} | _EXACT


SPELLINGS = _spellings()
SYMBOLS = {unit: mark for unit, (mark, _) in _WRITTEN.items()}
