"""Systems, symptoms and abbreviations."""

from __future__ import annotations

from collections import Counter, defaultdict

from baylore_kb.trade.faults import Faults
from baylore_kb.trade.files import Rows
from baylore_kb.trade.model import Trade
from baylore_kb.trade.rows import AbbreviationRow, SymptomRow, SystemRow

DEFER = "maker's procedure"
# Fewer hear no stranger's words; more would be the same words turned round.
PHRASINGS = (3, 30)


def check_words(rows: Rows, trade: Trade, faults: Faults) -> None:
    """Every reference of systems, symptoms, abbreviations and cautions leads somewhere."""
    for system in rows.systems:
        _system(system, trade, faults)
    for symptom in rows.symptoms:
        _symptom(symptom, trade, faults)
    for abbreviation in rows.abbreviations:
        _abbreviation(abbreviation, trade, faults)
    _shared_forms(rows.abbreviations, faults)
    for caution in rows.cautions:
        spoken = bool(caution.text) and DEFER in caution.always
        faults.unless(
            spoken, ("cautions.yaml", caution.id), "wants a text and to defer to the maker's procedure"
        )


def _system(row: SystemRow, trade: Trade, faults: Faults) -> None:
    where = ("systems.yaml", row.id)
    faults.unknown(row.cautions, trade.cautions, where)
    for component in row.components:
        below = component.id.startswith(f"{row.id}.")
        faults.unless(below, where, f"component {component.id!r} is not named under it")
    titles = [component.title.casefold() for component in row.components]
    faults.unless(len(set(titles)) == len(titles), where, "two components share a title")


def _symptom(row: SymptomRow, trade: Trade, faults: Faults) -> None:
    where = ("symptoms.yaml", row.id)
    faults.unknown(row.systems, trade.systems, where)
    phrasings = len(row.said_by_customer) + len(row.written_by_tech)
    fewest, most = PHRASINGS
    faults.unless(fewest <= phrasings <= most, where, f"{phrasings} phrasings, want {fewest} to {most}")
    for phrase, times in Counter(_spoken(row)).items():
        faults.unless(times == 1, where, f"phrasing {phrase!r} stands {times} times")
    faults.unless(bool(row.systems), where, "no system")
    faults.unless(bool(row.conditions and row.misheard_or_typo), where, "conditions or mis-hearings empty")


def _spoken(row: SymptomRow) -> list[str]:
    lists = (row.said_by_customer, row.written_by_tech, row.misheard_or_typo)
    return [phrase.casefold() for phrases in lists for phrase in phrases]


def _abbreviation(row: AbbreviationRow, trade: Trade, faults: Faults) -> None:
    where = ("abbreviations.yaml", ", ".join(row.forms))
    folded = {form.casefold() for form in row.forms}
    faults.unless(len(folded) == len(row.forms), where, "a form stands twice")
    targets = trade.systems.keys() | trade.components.keys()
    faults.unknown((sense.refers_to for sense in row.senses), targets, where)
    clear = len(row.senses) == 1 or all(sense.decide_by for sense in row.senses)
    faults.unless(clear, where, "several senses, one without decide_by")


def _shared_forms(entries: tuple[AbbreviationRow, ...], faults: Faults) -> None:
    owners: dict[str, list[AbbreviationRow]] = defaultdict(list)
    for row in entries:
        for form in {form.casefold() for form in row.forms}:
            owners[form].append(row)
    for form, shared in owners.items():
        marked = len(shared) == 1 or all(form in row.also_elsewhere for row in shared)
        faults.unless(marked, ("abbreviations.yaml", form), "stands in two entries without also_elsewhere")
