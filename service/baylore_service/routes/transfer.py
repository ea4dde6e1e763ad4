"""The whole memory out and in, as JSON Lines."""

from __future__ import annotations

from typing import Annotated, Literal

from litestar import Controller, get, post
from litestar.params import QueryParameter, RawBody
from litestar.response import Stream

from baylore_service.desk import transfer as desk
from baylore_service.routes.access import Asking, TheHouse, TheReader, manager_only
from baylore_service.routes.intake import LINES
from baylore_service.wire import transfer as wt
from baylore_service.wire.read_line import line_parser, own_lines
from baylore_service.wire.show_transfer import import_report, line_of

Mode = Annotated[
    Literal["all", "report"],
    QueryParameter(description="`all` takes every line or none; `report` takes the good ones."),
]


class TransferRoutes(Controller):
    """Moving in and out."""

    path = "/api"
    tags = ("transfer",)
    guards = (manager_only,)

    @get("/export", sync_to_thread=True, media_type="application/x-ndjson")
    def export(self, *, house: TheHouse, actor: Asking) -> Stream:
        """The whole memory as JSON Lines, photos included (managers)."""
        headers = {"Content-Disposition": 'attachment; filename="baylore.ndjson"'}
        return Stream(
            desk.export_lines(house, actor, render=line_of),
            media_type="application/x-ndjson",
            headers=headers,
        )

    @post(
        "/import",
        status_code=200,
        sync_to_thread=True,
        opt={"accepts": LINES},
    )
    def import_(
        self, body: RawBody, *, house: TheHouse, actor: Asking, reader: TheReader, mode: Mode = "all"
    ) -> wt.ImportReport:
        """Take in JSON Lines (managers); the same lines again change nothing."""
        lines = body.splitlines()
        parse, mine = line_parser(reader), own_lines(reader)
        found = desk.import_lines(house, actor, lines, parse=parse, own_lines=mine, mode=mode)
        return import_report(found)
