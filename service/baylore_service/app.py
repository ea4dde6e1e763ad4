"""The wiring of the service; nothing else is decided here."""

from __future__ import annotations

import asyncio
import signal
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from litestar import Litestar
from litestar.config.compression import CompressionConfig
from litestar.datastructures import State
from litestar.di import Provide
from litestar.middleware import DefineMiddleware
from litestar.types import ControllerRouterHandler

from baylore_service.build import VERSION
from baylore_service.desk.house import House
from baylore_service.desk.reasoning import Handouts
from baylore_service.jobs.following import Following
from baylore_service.jobs.rounds import Rounds
from baylore_service.routes import (
    access,
    client,
    document,
    health,
    intake,
    journal,
    keys,
    metrics,
    problems,
)
from baylore_service.routes.advice import AdviceRoutes
from baylore_service.routes.alerts import AlertRoutes
from baylore_service.routes.care import CareRoutes
from baylore_service.routes.cases import CaseRoutes
from baylore_service.routes.endings import EndingRoutes
from baylore_service.routes.feed import FeedRoutes
from baylore_service.routes.joining import JoiningRoutes
from baylore_service.routes.manager import ManagerRoutes
from baylore_service.routes.members import DeviceRoutes, MemberRoutes, ShopRoutes, TrailRoutes
from baylore_service.routes.office import OfficeRoutes
from baylore_service.routes.own_lists import OwnCauseRoutes, OwnTestRoutes
from baylore_service.routes.own_words import OwnWordRoutes
from baylore_service.routes.patience import Patience
from baylore_service.routes.photos import PhotoRoutes
from baylore_service.routes.sharing import SharingRoutes, advise_elsewhere
from baylore_service.routes.shell import Exchange, pass_through
from baylore_service.routes.steps import StepRoutes
from baylore_service.routes.transfer import TransferRoutes
from baylore_service.routes.tuning import TuningRoutes
from baylore_service.settings import Settings
from baylore_service.tracing import tracing
from baylore_service.wire.trade_lists import TradeLists

DRAIN = signal.SIGUSR1
ROUTES: list[ControllerRouterHandler] = [
    AdviceRoutes,
    CaseRoutes,
    StepRoutes,
    EndingRoutes,
    JoiningRoutes,
    OwnWordRoutes,
    SharingRoutes,
    advise_elsewhere,
    FeedRoutes,
    OwnTestRoutes,
    OwnCauseRoutes,
    TuningRoutes,
    ManagerRoutes,
    AlertRoutes,
    OfficeRoutes,
    CareRoutes,
    ShopRoutes,
    MemberRoutes,
    TrailRoutes,
    DeviceRoutes,
    health.live,
    health.ready,
    metrics.metrics,
    client.page,
    client.file,
]


class Service(Litestar):
    """The application inside its shell, so that unknown addresses get an id, headers, a log line too."""

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await super().__call__(scope, receive, send)
            return
        settings: Settings = self.state.house.settings
        exchange = Exchange(scope, send, secure=settings.public_address.startswith("https://"))
        patience = Patience(receive, settings.body_seconds)
        await pass_through(super().__call__, self.state.meter, exchange, patience.receive)


def create_app(settings: Settings | None = None) -> Litestar:
    """The service with its store open; settings come from the environment when none are given."""
    settings = settings or Settings.from_env()
    journal.configure(settings.log_level)
    tracing.start(settings.trace_to, VERSION)
    house = House.open(settings)
    return Service(
        route_handlers=[*ROUTES, *large_bodies(settings)],
        state=State(
            {
                "house": house,
                "lists": TradeLists(),
                "handouts": Handouts(),
                "meter": metrics.Meter(),
                "door": asyncio.Semaphore(access.THROUGH_THE_DOOR),
            }
        ),
        lifespan=[closing(house)],
        dependencies=dependencies(),
        middleware=[
            DefineMiddleware(access.SignIn, exclude="^/api/openapi.json", exclude_from_auth_key="open")
        ],
        before_request=intake.before,
        request_class=intake.StrictRequest,
        request_max_body_size=settings.max_json_bytes,
        exception_handlers=problems.HANDLERS,
        openapi_config=document.config(VERSION),
        compression_config=CompressionConfig(backend="gzip", gzip_compress_level=5, minimum_size=2000),
        logging_config=None,
    )


def large_bodies(settings: Settings) -> list[ControllerRouterHandler]:
    """The routes that take more than JSON may have."""
    return [
        type("PhotoRoutes", (PhotoRoutes,), {"request_max_body_size": settings.max_photo_bytes}),
        type("TransferRoutes", (TransferRoutes,), {"request_max_body_size": settings.max_import_bytes}),
    ]


def dependencies() -> dict[str, Provide]:
    """What handlers may ask for by name."""
    return {
        "house": Provide(access.provide_house, sync_to_thread=False),
        "actor": Provide(access.provide_actor, sync_to_thread=False),
        "reader": Provide(access.provide_reader, sync_to_thread=True),
        "lists": Provide(access.provide_lists, sync_to_thread=False),
        "handouts": Provide(access.provide_handouts, sync_to_thread=False),
        "receipt": Provide(keys.provide_receipt),
    }


def closing(house: House) -> Any:
    """Starts the timed acts with the service; ends them and closes the house when it stops."""

    @asynccontextmanager
    async def lifespan(_: Litestar) -> AsyncIterator[None]:
        drained_by_signal(house)
        rounds, following = Rounds(house), Following(house)
        rounds.start()
        following.start()
        yield
        house.drain()
        following.stop()
        rounds.stop()
        house.close()
        tracing.close()

    return lifespan


def drained_by_signal(house: House) -> None:
    """Let whoever runs this process say that its end is near; a process run by a test hears no signals."""
    if threading.current_thread() is threading.main_thread():
        asyncio.get_running_loop().add_signal_handler(DRAIN, house.drain)
