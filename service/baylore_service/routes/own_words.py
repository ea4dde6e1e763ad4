"""Words of the shop's own."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

from litestar import Controller, Response, delete, get, patch, post
from litestar.params import FromPath, JSONBody

from baylore_service.desk import own_words as desk
from baylore_service.routes.access import Asking, TheHouse
from baylore_service.routes.feed import answered_list
from baylore_service.routes.intake import MERGE_PATCH
from baylore_service.routes.keys import MaybeReceipt
from baylore_service.routes.tags import IfNoneMatch
from baylore_service.store.records import Kept, Receipt
from baylore_service.wire import own_words as wo
from baylore_service.wire.decode import encode
from baylore_service.wire.feed import TradeList
from baylore_service.wire.patch import given_fields


def rendered(result: object) -> bytes:
    """A word as it is answered."""
    return encode(wo.own_word(cast(desk.ListedWord, result)))


def kept_as_word(receipt: Receipt | None) -> Receipt | None:
    """What to keep of a request about a word."""
    return receipt and replace(receipt, render=rendered)


def answer(result: desk.ListedWord | Kept, *, status: int = 200) -> Response[wo.OwnWord]:
    """A word as answered, or the kept answer of the same request."""
    headers = {"Idempotent-Replay": "true"} if isinstance(result, Kept) and result.replayed else {}
    body = result.body if isinstance(result, Kept) else rendered(result)
    return Response(
        cast(wo.OwnWord, body), status_code=status, headers=headers, media_type="application/json"
    )


class OwnWordRoutes(Controller):
    """Words that are right as the shop writes them."""

    path = "/api/trade/words"
    tags = ("own lists",)

    @get(sync_to_thread=True)
    def words(
        self, *, house: TheHouse, actor: Asking, if_none_match: IfNoneMatch = None
    ) -> Response[TradeList]:
        """The shop's own words, by the alphabet."""
        return answered_list(wo.own_words(desk.words(house, actor)), if_none_match)

    @post(status_code=201, sync_to_thread=True)
    def add_word(
        self, data: JSONBody[wo.NewOwnWord], *, house: TheHouse, actor: Asking, receipt: MaybeReceipt
    ) -> Response[wo.OwnWord]:
        """Keep a word: it is never mended, and read as what it stands for too, from the next question on."""
        kept = kept_as_word(receipt)
        return answer(desk.add_word(house, actor, data.word, means=data.means, receipt=kept), status=201)

    @patch("/{word:str}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_word(
        self,
        word: FromPath[str],
        data: JSONBody[wo.OwnWordPatch],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
    ) -> Response[wo.OwnWord]:
        """Change what a word stands for: whoever added it, and managers."""
        changes = given_fields(data)
        return answer(desk.amend_word(house, actor, word, changes, receipt=kept_as_word(receipt)))

    @delete("/{word:str}", sync_to_thread=True)
    def remove_word(self, word: FromPath[str], *, house: TheHouse, actor: Asking) -> None:
        """Drop a word: whoever added it, and managers."""
        desk.remove_word(house, actor, word)
