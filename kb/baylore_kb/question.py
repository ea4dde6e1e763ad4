"""Understand a complaint: mend, read, hear, find codes and judge readings, all on one snapshot."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

from baylore_kb.casedoc import merge_heard
from baylore_kb.codes import read_code, system_hints
from baylore_kb.conditions import in_their_light
from baylore_kb.index import Snapshot
from baylore_kb.mend import mend
from baylore_kb.mentions import Mentioned
from baylore_kb.readings import judge_all
from baylore_kb.symptoms import Heard
from baylore_kb.text import Analysis
from baylore_kb.trade.model import Trade
from baylore_kb.traits import Traits
from baylore_kb.values import Complaint, Judged, ReadAs, Vehicle
from baylore_kb.vehicle import known_name, traits_of

_SUSPECT = 0.15
_MOST_SYSTEMS = 6


@dataclass(frozen=True, slots=True)
class Question:
    """A complaint with all that was understood of it.

    `complaint` has canonical codes and the shop's own spelling of make and model.
    `mended` is its text with words mended, `read_as` what was read as what (abbreviations with several
    senses too), `analysis` the mended text as the index reads it. `heard` are symptoms best first: given
    ones at chance 1, heard ones below. `codes` are canonical, given ones first, then those in the text.
    `mentioned` are components named, heaviest first. `judged` runs in step with the complaint's readings,
    what they say together after them.
    `present` and `absent` are traits known to be there and not; a trait in
    neither is unknown. `systems` are suspected systems, first suspect first.
    """

    complaint: Complaint
    mended: str
    analysis: Analysis
    read_as: tuple[ReadAs, ...]
    heard: tuple[Heard, ...]
    codes: tuple[str, ...]
    mentioned: tuple[Mentioned, ...]
    judged: tuple[Judged, ...]
    present: Traits
    absent: Traits
    systems: tuple[str, ...]

    @property
    def symptoms(self) -> dict[str, float]:
        """Chance by symptom, given ones at 1."""
        return {heard.symptom: heard.chance for heard in self.heard}


def understand(complaint: Complaint, snapshot: Snapshot) -> Question:
    """The complaint as the engine understands it; an empty text is fine.

    Raises MalformedCode for a given code that cannot be; codes in the text are only looked for.
    """
    mended, changes = mend(complaint.text, snapshot.vocabulary)
    analysis = snapshot.analyzer.analyze(mended)
    given = tuple(read_code(code, field=f"codes[{place}]").code for place, code in enumerate(complaint.codes))
    codes = tuple(dict.fromkeys((*given, *analysis.codes)))
    heard = _heard(complaint, analysis, snapshot)
    mentioned = snapshot.spotter.mentioned(analysis)
    known = _known_vehicle(complaint.vehicle, snapshot)
    present, absent = traits_of(known)
    return Question(
        complaint=replace(complaint, vehicle=known, codes=given),
        mended=mended,
        analysis=analysis,
        read_as=(*changes, *_senses(analysis)),
        heard=heard,
        codes=codes,
        mentioned=mentioned,
        judged=judge_all(complaint.readings, snapshot.trade),
        present=present,
        absent=absent,
        systems=_systems(heard, mentioned, codes, snapshot.trade),
    )


def _senses(analysis: Analysis) -> tuple[ReadAs, ...]:
    """Abbreviations that could have meant something else, as they were read."""
    return tuple(dict.fromkeys(ReadAs(each.typed, each.plain) for each in analysis.expansions if each.unsure))


def _heard(complaint: Complaint, analysis: Analysis, snapshot: Snapshot) -> tuple[Heard, ...]:
    given = dict.fromkeys(complaint.symptoms, 1.0)
    said = merge_heard(given, snapshot.spotter.hear(analysis))
    chances = in_their_light(said, complaint.shows_when, snapshot.trade)
    return tuple(Heard(id, chance) for id, chance in sorted(chances.items(), key=lambda each: -each[1]))


def _known_vehicle(vehicle: Vehicle, snapshot: Snapshot) -> Vehicle:
    """The vehicle with make and model as the shop writes them, where it has written them."""
    make = known_name(vehicle.make, snapshot.names("make")) if vehicle.make else None
    model = known_name(vehicle.model, snapshot.names("model")) if vehicle.model else None
    return replace(vehicle, make=make or vehicle.make, model=model or vehicle.model)


def _systems(
    heard: tuple[Heard, ...], mentioned: tuple[Mentioned, ...], codes: tuple[str, ...], trade: Trade
) -> tuple[str, ...]:
    weights: dict[str, float] = defaultdict(float)
    for each in heard:
        suspects = trade.symptoms[each.symptom].systems if each.symptom in trade.symptoms else ()
        for place, system in enumerate(suspects):
            weights[system] += each.chance / (1.0 + place)
    for named in mentioned:
        weights[trade.components[named.component].system] += named.weight
    for code in codes:
        for system in system_hints(code)[:2]:
            weights[system] += 0.5
    likely = sorted(weights.items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple(system for system, weight in likely if weight >= _SUSPECT)[:_MOST_SYSTEMS]
