"""People and their devices: who asks, members, sign-in links, devices, the shop."""

from __future__ import annotations

from typing import Annotated, Any

from litestar import Controller, Request, Response, delete, get, patch, post
from litestar.params import FromPath, JSONBody, QueryParameter

from baylore_service.build import BUILD, VERSION
from baylore_service.desk import feed as desk_feed
from baylore_service.desk import leaving, shops
from baylore_service.desk import members as desk
from baylore_service.desk import trail as desk_trail
from baylore_service.routes.access import Asking, TheHouse, address_of, manager_only
from baylore_service.routes.intake import MERGE_PATCH
from baylore_service.routes.keys import MaybeReceipt, plain_answer
from baylore_service.wire import people as p
from baylore_service.wire import read_people, show
from baylore_service.wire import trail as wt
from baylore_service.wire.enrolment import enrolment
from baylore_service.wire.patch import given_fields

Before = Annotated[
    int | None, QueryParameter(ge=1, le=2**53, description="The number of the last act of the page before.")
]
Many = Annotated[int, QueryParameter(ge=1, le=500)]


class ShopRoutes(Controller):
    """Who asks, and the shop's habits."""

    path = "/api"
    tags = ("shop",)

    @get("/me", sync_to_thread=True)
    def me(self, *, house: TheHouse, actor: Asking) -> p.Me:
        """The member, device and shop of this token."""
        latest = desk_feed.revision(house, actor)
        device = p.DeviceName(actor.device.id, actor.device.name)
        service = p.Service(VERSION, BUILD)
        return p.Me(show.member_name(actor.member), device, show.shop(actor.shop), latest, service)

    @get("/shop", sync_to_thread=True)
    def get_shop(self, *, house: TheHouse, actor: Asking) -> p.Shop:
        """The shop."""
        return show.shop(shops.get_shop(house, actor))

    @patch("/shop", sync_to_thread=True, guards=[manager_only], opt={"accepts": MERGE_PATCH})
    def amend_shop(
        self, data: JSONBody[p.ShopPatch], *, house: TheHouse, actor: Asking, receipt: MaybeReceipt
    ) -> Response[p.Shop]:
        """Change the shop (managers)."""
        changed = shops.amend_once(house, actor, read_people.shop_changes(data), receipt=receipt)
        return plain_answer(changed, p.Shop)


class TrailRoutes(Controller):
    """Who changed what, for managers."""

    path = "/api/trail"
    tags = ("members",)
    guards = (manager_only,)

    @get(sync_to_thread=True)
    def trail(self, *, house: TheHouse, actor: Asking, before: Before = None, limit: Many = 100) -> wt.Trail:
        """Who changed what and when, the newest first (managers)."""
        return wt.trail(desk_trail.listed(house, actor, before=before, limit=limit), limit=limit)


class MemberRoutes(Controller):
    """The people of the shop, for managers."""

    path = "/api/members"
    tags = ("members",)
    guards = (manager_only,)

    @get(sync_to_thread=True)
    def list_members(self, *, house: TheHouse, actor: Asking) -> p.MemberList:
        """List members (managers)."""
        return p.MemberList(tuple(show.member(each) for each in desk.list_members(house, actor)))

    @post(status_code=201, sync_to_thread=True)
    def add_member(
        self, data: JSONBody[p.NewMember], *, house: TheHouse, actor: Asking, receipt: MaybeReceipt
    ) -> Response[p.Member]:
        """Add a member (managers)."""
        new = read_people.new_member(data)
        return plain_answer(desk.add_once(house, actor, new, receipt=receipt), p.Member, status=201)

    @patch("/{member_id:str}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_member(
        self,
        member_id: FromPath[str],
        data: JSONBody[p.MemberPatch],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
    ) -> Response[p.Member]:
        """Change a member (managers)."""
        changed = desk.amend_once(house, actor, member_id, given_fields(data), receipt=receipt)
        return plain_answer(changed, p.Member)

    @post("/{member_id:str}/leave", status_code=200, sync_to_thread=True)
    def leave(
        self, member_id: FromPath[str], data: JSONBody[p.Leave], *, house: TheHouse, actor: Asking
    ) -> p.Left:
        """Let a member go: phones out, name off everything, cases stay (managers); `preview` only tells."""
        left = leaving.leave(
            house, actor, member_id, also=data.also, in_texts=data.in_texts, preview=data.preview
        )
        return show.left(left)


class DeviceRoutes(Controller):
    """Phones and tablets: sign in, list, revoke."""

    path = "/api"
    tags = ("devices",)

    @post("/enrolments", status_code=201, sync_to_thread=True, guards=[manager_only])
    def enrol(
        self,
        data: JSONBody[p.EnrolmentRequest],
        request: Request[Any, Any, Any],
        *,
        house: TheHouse,
        actor: Asking,
    ) -> p.Enrolment:
        """Make a sign-in link for a member (managers); it works once, for 24 hours."""
        made = desk.enrol(house, actor, data.member)
        return enrolment(made.code, made.expires, address=house.settings.address or str(request.base_url))

    @post("/devices", status_code=201, sync_to_thread=True, opt={"open": True})
    def join(self, data: JSONBody[p.Join], request: Request[Any, Any, Any], *, house: TheHouse) -> p.Joined:
        """Trade a sign-in code for the token of this device; needs no token."""
        address = address_of(request, house.settings)
        token, actor = desk.join(house, data.code, data.name.strip(), address=address)
        device = p.DeviceName(actor.device.id, actor.device.name)
        return p.Joined(token, device, show.member_name(actor.member), show.shop(actor.shop))

    @post("/me/token", status_code=201, sync_to_thread=True)
    def renew(self, *, house: TheHouse, actor: Asking) -> p.Token:
        """Another token for this device; the old one holds until the new one is first used."""
        return p.Token(desk.renew(house, actor))

    @get("/devices", sync_to_thread=True)
    def list_devices(self, *, house: TheHouse, actor: Asking) -> p.DeviceList:
        """List your own devices; managers see all of the shop."""
        found = desk.list_devices(house, actor)
        return p.DeviceList(tuple(show.device(each, asking=actor.device.id) for each in found))

    @delete("/devices/{device_id:str}", sync_to_thread=True)
    def revoke(self, device_id: FromPath[str], *, house: TheHouse, actor: Asking) -> None:
        """Revoke a device: your own, or as a manager any."""
        desk.revoke_device(house, actor, device_id)
