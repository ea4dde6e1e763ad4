"""Query parameters of what keeps failing, and the question they make."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from litestar.params import QueryParameter

from baylore_kb.recurrence import BY
from baylore_service.desk.manager import Question
from baylore_service.routes import asked
from baylore_service.wire import tables
from baylore_service.wire.fields import LINE, LISTED, MONTH

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
Limit = Annotated[int, QueryParameter(ge=1, le=10_000, description="Most rows.")]
Form = Annotated[tables.Form, QueryParameter(description="`csv` or `jsonl`.")]


def named(**names: str | None) -> dict[str, str]:
    """The names that were given."""
    return {name: value for name, value in names.items() if value}


def question(
    by: str,
    since: str | None,
    until: str | None,
    *,
    least: int = 2,
    limit: int | None = None,
    only: Mapping[str, str],
) -> Question:
    """What was asked. Raises BadValue for a day that is none."""
    first, last = asked.moment(since, field="since"), asked.moment(until, field="until")
    keys = tuple(dict.fromkeys(by.split(",")))
    return Question(keys, first, last, least=least, limit=limit, only=only)
