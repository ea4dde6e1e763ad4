"""Photos of a case: raw bytes in, raw bytes out."""

from __future__ import annotations

from typing import Annotated, Any
from uuid import UUID

from litestar import Controller, Request, Response, get, post
from litestar.params import FromPath, QueryParameter, RawBody

from baylore_service.desk import photos as desk
from baylore_service.desk.pictures import kind_of
from baylore_service.errors import WrongContentType
from baylore_service.routes.access import Asking, TheHouse
from baylore_service.routes.intake import PICTURES
from baylore_service.routes.keys import MaybeReceipt, answer
from baylore_service.routes.tags import IfNoneMatch, known_to_client, not_modified
from baylore_service.wire import cases as wc
from baylore_service.wire.fields import LINES

# Opened by itself a picture is a picture: whatever else its bytes may say is not run.
NO_PAGE = "default-src 'none'; sandbox"
FOR_EVER = "private, max-age=31536000, immutable"
Note = Annotated[str, QueryParameter(max_length=500, pattern=LINES, description="What it shows.")]
PhotoId = Annotated[UUID | None, QueryParameter(name="id", description="An id made by the client.")]
Step = Annotated[UUID | None, QueryParameter(description="The step it belongs to.")]


class PhotoRoutes(Controller):
    """Photos of a case."""

    path = "/api/cases/{case_id:uuid}/photos"
    tags = ("photos",)

    @post(
        status_code=201,
        sync_to_thread=True,
        opt={"accepts": PICTURES},
    )
    def add_photo(
        self,
        case_id: FromPath[UUID],
        body: RawBody,
        request: Request[Any, Any, Any],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
        photo_id: PhotoId = None,
        step: Step = None,
        note: Note = "",
    ) -> Response[wc.Case]:
        """Add a photo (JPEG, PNG or WebP, up to 8 MB)."""
        kind = request.content_type[0]
        if kind_of(body) != kind:
            raise WrongContentType(
                f"the bytes are not {kind}", field="Content-Type", remedy="send the picture with its own kind"
            )
        result = desk.add_photo(
            house,
            actor,
            str(case_id),
            type=kind,
            data=body,
            step=str(step) if step else None,
            note=note.strip(),
            photo_id=str(photo_id) if photo_id else None,
            receipt=receipt,
        )
        return answer(result, status=201)

    @get("/{photo_id:uuid}", sync_to_thread=True)
    def get_photo(
        self,
        case_id: FromPath[UUID],
        photo_id: FromPath[UUID],
        *,
        house: TheHouse,
        actor: Asking,
        if_none_match: IfNoneMatch = None,
    ) -> Response[bytes]:
        """The bytes of a photo."""
        kind, data = desk.get_photo(house, actor, str(case_id), str(photo_id))
        tag = f'"{photo_id}"'
        if known_to_client(tag, if_none_match):
            return not_modified(tag)
        headers = {"ETag": tag, "Cache-Control": FOR_EVER, "Content-Security-Policy": NO_PAGE}
        headers["Content-Disposition"] = f'inline; filename="{photo_id}.{kind.removeprefix("image/")}"'
        return Response(data, media_type=kind, headers=headers)
