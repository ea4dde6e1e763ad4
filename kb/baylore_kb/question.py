"""Understand a complaint: mend, read, hear, find codes and judge readings, all on one snapshot."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from baylore_kb.casedoc import merge_heard
from baylore_kb.codes import read_code, system_hints
from baylore_kb.conditions import in_their_light
from baylore_kb.index import Snapshot
from baylore_kb.kindred import kindred
from baylore_kb.mend import mend, phrase_key
from baylore_kb.mentions import Mentioned
from baylore_kb.readings import judge_all
from baylore_kb.senses import form_key
from baylore_kb.stems import STOP_WORDS, stem
from baylore_kb.symptoms import Heard
from baylore_kb.system_sounds import Sound
from baylore_kb.text import Analysis
from baylore_kb.tokens import fold
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own import meanings, own_words
from baylore_kb.traits import Traits
from baylore_kb.values import Complaint, Judged, KnownCar, ReadAs
from baylore_kb.vehicle import car_known, traits_of

_SUSPECT = 0.15
_MOST_SYSTEMS = 6


@dataclass(frozen=True, slots=True)
class Question:
    """A complaint with all that was understood of it.

    `complaint` has canonical codes, and the vehicle as `car` knows it: in the shop's own spelling, filled
    from the VIN and the words where nobody typed it.
    `mended` is its text with words mended, `read_as` what was read as what (abbreviations with several
    senses too), `analysis` the mended text as the index reads it, `weights` what each of its terms says in
    this shop. `heard` are symptoms best first: given
    ones at chance 1, heard ones below. `codes` are canonical, given ones first, then those in the text.
    `mentioned` are components named, heaviest first. `judged` runs in step with the complaint's readings,
    what they say together after them.
    `present` and `absent` are traits known to be there and not; a trait in
    neither is unknown. `systems` are suspected systems with their shares of the suspicion, which sum to 1,
    first suspect first; `sounds` how far it sounds like each system, where the shop has one of its own.
    """

    complaint: Complaint
    mended: str
    analysis: Analysis
    weights: Mapping[str, float]
    read_as: tuple[ReadAs, ...]
    heard: tuple[Heard, ...]
    codes: tuple[str, ...]
    mentioned: tuple[Mentioned, ...]
    judged: tuple[Judged, ...]
    present: Traits
    absent: Traits
    systems: Mapping[str, float]
    sounds: Mapping[str, Sound]
    car: KnownCar

    @property
    def symptoms(self) -> dict[str, float]:
        """Chance by symptom, given ones at 1."""
        return {heard.symptom: heard.chance for heard in self.heard}


def understand(
    complaint: Complaint, snapshot: Snapshot, *, leave_out: frozenset[str] = frozenset()
) -> Question:
    """The complaint as the engine understands it; an empty text is fine.

    `leave_out` are ids of cases that must not tell how a system sounds. Raises MalformedCode for a given code
    that cannot be; codes in the text are only looked for.
    """
    ours = own_words(snapshot.trade)
    right = ours.union(map(fold, complaint.as_typed))
    car = car_known(
        complaint.vehicle, complaint.text, snapshot.cars, ordinary=_ordinary(snapshot), as_typed=right
    )
    kept = _named_words(car, snapshot) | ours | set(map(phrase_key, complaint.as_typed))
    mended, changes = mend(complaint.text, snapshot.vocabulary, kept=kept)
    bare = (*complaint.as_typed, *(ours - meanings(snapshot.trade).keys()))
    analysis = snapshot.analyzer.analyze(mended, kept=frozenset(map(form_key, bare)))
    given = tuple(read_code(code, field=f"codes[{place}]").code for place, code in enumerate(complaint.codes))
    codes = tuple(dict.fromkeys((*given, *analysis.codes)))
    heard = _heard(complaint, analysis, snapshot)
    mentioned = snapshot.spotter.mentioned(analysis)
    weights = snapshot.term_weights(analysis)
    present, absent = traits_of(car.vehicle)
    return Question(
        complaint=replace(complaint, vehicle=car.vehicle, codes=given),
        mended=mended,
        analysis=analysis,
        weights=weights,
        read_as=(*car.read_as, *changes, *_senses(analysis)),
        heard=heard,
        codes=codes,
        mentioned=mentioned,
        judged=judge_all(complaint.readings, snapshot.trade),
        present=present,
        absent=absent,
        systems=_systems(heard, mentioned, codes, snapshot.trade),
        sounds=_sounds(weights, heard, snapshot, leave_out),
        car=car,
    )


def _senses(analysis: Analysis) -> tuple[ReadAs, ...]:
    """The shop's own words, and abbreviations that could have meant something else, as they were read."""
    told = (each for each in analysis.expansions if each.unsure or each.own)
    return tuple(
        dict.fromkeys(ReadAs(each.typed, each.plain, "own" if each.own else "sense") for each in told)
    )


def _heard(complaint: Complaint, analysis: Analysis, snapshot: Snapshot) -> tuple[Heard, ...]:
    given = dict.fromkeys(complaint.symptoms, 1.0)
    said = merge_heard(given, snapshot.spotter.hear(analysis))
    chances = in_their_light(said, complaint.shows_when, snapshot.trade)
    return tuple(Heard(id, chance) for id, chance in sorted(chances.items(), key=lambda each: -each[1]))


def _ordinary(snapshot: Snapshot) -> Callable[[str], bool]:
    """Whether a folded word is one that anybody writes of a car."""
    return lambda word: word in snapshot.known_words or word in STOP_WORDS or bool(kindred(stem(word)))


def _named_words(car: KnownCar, snapshot: Snapshot) -> frozenset[str]:
    """Words that name a car, which are not for mending."""
    read = (word for each in car.read_as for word in fold(each.typed).split())
    return snapshot.cars.words.union(read)


def _systems(
    heard: tuple[Heard, ...], mentioned: tuple[Mentioned, ...], codes: tuple[str, ...], trade: Trade
) -> dict[str, float]:
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
    likely = sorted(weights.items(), key=lambda pair: (-pair[1], pair[0]))[:_MOST_SYSTEMS]
    suspected = {system: weight for system, weight in likely if weight >= _SUSPECT}
    total = sum(suspected.values())
    return {system: weight / total for system, weight in suspected.items()}


def _sounds(
    weights: Mapping[str, float],
    heard: tuple[Heard, ...],
    snapshot: Snapshot,
    leave_out: frozenset[str],
) -> dict[str, Sound]:
    systems = snapshot.system_sounds
    if systems is None:
        return {}
    terms = {number: weights[term] for number, term in snapshot.numbered(weights).items()}
    symptoms = {each.symptom: each.chance for each in heard}
    return systems.without(snapshot.docs(leave_out)).sounds(terms, symptoms)
