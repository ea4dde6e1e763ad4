"""Words of the shop's own."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

from litestar import Controller, Response, delete, get, post
from litestar.params import FromPath, JSONBody

from baylore_service.desk import own_words as desk
from baylore_service.routes.access import Asking, TheHouse
from baylore_service.routes.keys import MaybeReceipt
from baylore_service.store.records import Kept
from baylore_service.store.records.own import OwnWord
from baylore_service.wire import own_words as wo
from baylore_service.wire.decode import encode


def rendered(result: object) -> bytes:
    """A word as it is answered."""
    return encode(wo.OwnWord(cast(OwnWord, result).id))


class OwnWordRoutes(Controller):
    """Words that are right as the shop writes them."""

    path = "/api/trade/words"
    tags = ("own lists",)

    @get(sync_to_thread=True)
    def words(self, *, house: TheHouse, actor: Asking) -> wo.OwnWords:
        """The shop's own words, by the alphabet."""
        return wo.OwnWords(tuple(word.id for word in desk.words(house, actor)))

    @post(status_code=201, sync_to_thread=True)
    def add_word(
        self, data: JSONBody[wo.NewOwnWord], *, house: TheHouse, actor: Asking, receipt: MaybeReceipt
    ) -> Response[wo.OwnWord]:
        """Keep a word: it is never mended, from the next question on."""
        kept = receipt and replace(receipt, render=rendered)
        result = desk.add_word(house, actor, data.word, receipt=kept)
        headers = {"Idempotent-Replay": "true"} if isinstance(result, Kept) and result.replayed else {}
        body = result.body if isinstance(result, Kept) else rendered(result)
        return Response(
            cast(wo.OwnWord, body), status_code=201, headers=headers, media_type="application/json"
        )

    @delete("/{word:str}", sync_to_thread=True)
    def remove_word(self, word: FromPath[str], *, house: TheHouse, actor: Asking) -> None:
        """Drop a word: whoever added it, and managers."""
        desk.remove_word(house, actor, word)
