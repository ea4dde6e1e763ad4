"""Query parameters of what keeps failing, and the question they make."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from litestar.di import NamedDependency
from litestar.params import QueryParameter, SkipValidation

from baylore_kb.office import Costs
from baylore_kb.recurrence import BY
from baylore_service.desk.manager import Question
from baylore_service.routes import asked
from baylore_service.wire import tables
from baylore_service.wire.fields import LINE, LISTED, MONTH

SHOWN_ROWS, MOST_ROWS = 1000, 10_000
_NAME = "|".join(BY)
By = Annotated[
    str,
    QueryParameter(
        max_length=120,
        pattern=rf"^({_NAME})(,({_NAME}))*$",
        description="What to count by: names of the car and of the failure.",
    ),
]
Component = Annotated[str, QueryParameter(max_length=120, pattern=LISTED)]
NeededModel = Annotated[
    str, QueryParameter(min_length=1, max_length=170, pattern=LINE, description="Make and model.")
]
Month = Annotated[str | None, QueryParameter(pattern=MONTH, max_length=7, description="A month, as 2026-03.")]
MaybeComponent = Annotated[str | None, QueryParameter(max_length=120, pattern=LISTED)]
KeyName = Annotated[
    str | None, QueryParameter(max_length=200, pattern=LINE, description="Only rows with this in their key.")
]
Model = Annotated[
    str | None, QueryParameter(max_length=170, pattern=LINE, description="Make and model, as in a key.")
]
Least = Annotated[int, QueryParameter(ge=1, le=10_000, description="Least cases of a row.")]
Limit = Annotated[
    int | None,
    QueryParameter(
        ge=1,
        le=MOST_ROWS,
        description=f"Most rows; {SHOWN_ROWS} of a list where not said, {MOST_ROWS} of a table.",
    ),
]
Rush = Annotated[float, QueryParameter(ge=0, le=100_000, description="What being without the part costs.")]
Holding = Annotated[
    float, QueryParameter(ge=0.001, le=10, description="Share of its price a part costs a year on the shelf.")
]
LeadDays = Annotated[float, QueryParameter(ge=0.1, le=365, description="Days an order takes.")]
OfficeTable = Annotated[tables.OfficeTable, QueryParameter(description="Which table.")]
Form = Annotated[tables.Form, QueryParameter(description="`csv` or `jsonl`.")]


Counted = NamedDependency[SkipValidation[Question]]
Reckoned = NamedDependency[SkipValidation[Costs]]


def provide_counted(
    *,
    by: By = "model,system",
    since: asked.Since = None,
    until: asked.Until = None,
    make: KeyName = None,
    model: Model = None,
    year: KeyName = None,
    engine: KeyName = None,
    season: KeyName = None,
    odometer: KeyName = None,
    system: KeyName = None,
    component: KeyName = None,
    cause: KeyName = None,
) -> Question:
    """What is counted by, in what time, and which names rows must have. Raises BadValue for no day."""
    first, last = asked.moment(since, field="since"), asked.moment(until, field="until")
    car = _named(make=make, model=model, year=year, engine=engine, season=season, odometer=odometer)
    only = car | _named(system=system, component=component, cause=cause)
    return Question(tuple(dict.fromkeys(by.split(","))), first, last, only=only)


def _named(**names: str | None) -> dict[str, str]:
    """The names that were given."""
    return {name: value for name, value in names.items() if value}


def provide_listed(counted: Counted, least: Least = 2, limit: Limit = None) -> Question:
    """What is counted, with how many cases a row needs and how many rows there may be."""
    return replace(counted, least=least, limit=limit)


def provide_costs(*, rush: Rush = 40.0, holding: Holding = 0.25, lead_days: LeadDays = 7.0) -> Costs:
    """What stock is reckoned with."""
    return Costs(rush, holding, lead_days)
