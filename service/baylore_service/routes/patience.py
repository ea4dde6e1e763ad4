"""How long a body may take: a client that sends a byte now and then must not hold a place for ever."""

from __future__ import annotations

import asyncio
from typing import Any

from litestar.types import Receive

from baylore_service.errors import TooSlow


class Patience:
    """Receives one request; its whole body must have come before the time is up."""

    def __init__(self, receive: Receive, seconds: float) -> None:
        self._receive, self._seconds = receive, seconds
        self._until: float | None = None
        self._whole = False

    async def receive(self) -> Any:
        """The next message. Raises TooSlow; after the body it waits for ever, as for a hang-up."""
        if self._whole:
            return await self._receive()
        loop = asyncio.get_running_loop()
        self._until = self._until or loop.time() + self._seconds
        try:
            async with asyncio.timeout_at(self._until):
                message = await self._receive()
        except TimeoutError as error:
            raise TooSlow(
                f"the body did not arrive within {self._seconds:g} s",
                remedy="send it again; smaller photos travel faster",
            ) from error
        self._whole = not message.get("more_body", False)
        return message
