"""Everyday words that say the same thing of a car; from memory, kept short, added beside the typed word."""

from __future__ import annotations

from baylore_kb.stems import stem

_GROUPS = {
    "cold": "cold cool chilly freezing ice",
    "hot": "hot warm",
    "dead": "dead inop inoperative died quit quits stopped failed kaput nothing",
    "start": "start fire fires fired",
    "crank": "crank turn turns turning spin spins",
    "noise": "noise noisy sound sounds knock clunk rattle squeal squeak whine hum grind growl tick click",
    "leak": "leak drip dripping wet puddle seep",
    "lamp": "light lamp bulb",
    "weak": "weak slow sluggish lazy poor low",
    "shake": "shake vibration vibrate judder shudder wobble",
    "sometimes": "sometimes intermittent intermittently random randomly occasionally occasional",
    "flat": "flat drained discharged drain",
    "glass": "screen windscreen windshield window glass",
    "wash": "wash washer squirt squirts spray jet",
    "smell": "smell stink stinks odour odor",
    "stuck": "stuck seized jammed jam sticking",
    "alone": "itself self own alone",
    "stall": "stall dies cuts",
    "pull": "pull drift wander",
    "wrong": "wrong odd strange weird funny crazy",
    "run": "runs run running works working work operates",
    "rough": "rough lumpy uneven hunting misfire misfires missing",
}
_KIN: dict[str, tuple[str, ...]] = {}
for _name, _words in _GROUPS.items():
    for _word in _words.split():
        _KIN[stem(_word)] = tuple(dict.fromkeys((*_KIN.get(stem(_word), ()), f"={_name}")))


def kindred(word_stem: str) -> tuple[str, ...]:
    """The group terms of a stem, such as "=cold" for "cool"; most words have none."""
    return _KIN.get(word_stem, ())
