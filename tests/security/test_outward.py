"""Messages go to open addresses only, to the one that was looked at, and no further."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_service import outward
from baylore_service.errors import BadValue, DeliveryFailed
from baylore_service.settings import Settings
from baylore_service.store.records.office import Delivery, Hook

NOW = datetime(2026, 3, 11, tzinfo=UTC)
SENT = Delivery("shop", "message", "hook", "{}", NOW, NOW)


def hook(url: str) -> Hook:
    """An address with a secret."""
    return Hook("hook", url, "secret", NOW)


def leads_to(*addresses: str) -> object:
    """A name server's answer."""
    return [(2, 1, 6, "", (address, 443)) for address in addresses]


def looked_up(*answers: object) -> Any:
    """The name server's answers, one after the other."""
    return patch("baylore_service.outward.socket.getaddrinfo", side_effect=answers)


def connecting() -> Any:
    """Connections that never come about."""
    return patch("baylore_service.outward.socket.create_connection", side_effect=OSError("no net"))


INSIDE = (
    *("127.0.0.1", "127.255.255.254", "0.0.0.0", "10.0.0.1", "172.16.0.1", "192.168.1.1", "169.254.169.254"),
    *("100.64.0.1", "224.0.0.1", "255.255.255.255", "192.0.0.8", "198.18.0.1", "240.0.0.1"),
    *("::", "::1", "fe80::1", "fc00::1", "fd00:ec2::254", "ff02::1", "::ffff:127.0.0.1", "::ffff:10.0.0.1"),
    *("::127.0.0.1", "64:ff9b::7f00:1", "64:ff9b::a00:1", "2002:7f00:1::", "2002:a00:1::1", "2001:db8::1"),
)


@pytest.mark.parametrize("address", INSIDE)
def test_no_form_of_an_inside_address_is_sent_to(address: str) -> None:
    assert not outward.is_public(address)
    with looked_up(leads_to(address)), connecting() as connect, pytest.raises(DeliveryFailed):
        outward.post_signed(hook("https://office.example/x"), SENT, outward.Reach(), at=NOW)
    assert not connect.called


@pytest.mark.parametrize("address", ["8.8.8.8", "2606:4700::1111", "::ffff:8.8.8.8", "64:ff9b::808:808"])
def test_open_addresses_are_open(address: str) -> None:
    assert outward.is_public(address)


@given(st.ip_addresses(v=4))
def test_a_mapped_or_translated_address_is_as_open_as_the_one_inside(inner: object) -> None:
    plain = outward.is_public(str(inner))
    assert outward.is_public(f"::ffff:{inner}") == plain
    assert outward.is_public(f"64:ff9b::{inner}") == plain


def test_a_name_with_one_inside_address_among_others_is_not_sent_to() -> None:
    found = leads_to("8.8.8.8", "10.0.0.1")
    with looked_up(found), pytest.raises(DeliveryFailed, match="private"):
        outward.post_signed(hook("https://office.example/x"), SENT, outward.Reach(), at=NOW)


def test_a_name_that_leads_elsewhere_when_asked_again_is_asked_once() -> None:
    answers = leads_to("8.8.8.8"), leads_to("127.0.0.1")
    with looked_up(*answers) as asked, connecting() as connect, pytest.raises(DeliveryFailed):
        outward.post_signed(hook("https://office.example/x"), SENT, outward.Reach(), at=NOW)
    assert asked.call_count == 1
    assert [call.args[0] for call in connect.call_args_list] == [("8.8.8.8", 443)]


class Listener:
    """Answers every request with the same bytes, slowly, and counts them."""

    def __init__(self, answer: bytes, pause_s: float = 0.0) -> None:
        self.answer, self.pause_s, self.heard = answer, pause_s, 0
        self.socket = socket.create_server(("127.0.0.1", 0))
        self.url = f"http://127.0.0.1:{self.socket.getsockname()[1]}/x"
        threading.Thread(target=self.run, daemon=True).start()

    def run(self) -> None:
        """Until it is closed."""
        while True:
            try:
                wire, _ = self.socket.accept()
            except OSError:
                return
            self.heard += 1
            with wire:
                self.say(wire)

    def say(self, wire: socket.socket) -> None:
        """One answer, a byte at a time."""
        heard = b""
        while not heard.endswith(SENT.body.encode()):
            heard += wire.recv(4000)
        try:
            for at in range(len(self.answer)):
                wire.sendall(self.answer[at : at + 1])
                time.sleep(self.pause_s)
        except OSError:
            return


@pytest.fixture
def elsewhere() -> Iterator[Listener]:
    """Where a redirect leads."""
    found = Listener(b"HTTP/1.1 200 OK\r\nContent-Length: 0\r\n\r\n")
    yield found
    found.socket.close()


def test_a_redirect_is_not_followed(elsewhere: Listener) -> None:
    for status in (b"301", b"302", b"303", b"307", b"308"):
        head = b"HTTP/1.1 " + status + b" Moved\r\nLocation: " + elsewhere.url.encode() + b"\r\n\r\n"
        sender = Listener(head)
        with pytest.raises(DeliveryFailed, match=status.decode()):
            outward.post_signed(hook(sender.url), SENT, outward.Reach(private=True), at=NOW)
        sender.socket.close()
    assert elsewhere.heard == 0


def test_who_answers_a_byte_now_and_then_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(outward, "WHOLE_S", 0.3)
    dripping = Listener(b"HTTP/1.1 200 OK\r\n" + b"X: y\r\n" * 1000, pause_s=0.05)
    began = time.monotonic()
    with pytest.raises(DeliveryFailed):
        outward.post_signed(hook(dripping.url), SENT, outward.Reach(private=True), at=NOW)
    assert time.monotonic() - began < 1000 * 5 * 0.05
    dripping.socket.close()


@given(st.text(max_size=60))
def test_an_address_is_taken_or_refused_and_never_crashes(text: str) -> None:
    for url in (text, f"https://{text}", f"https://office.example{text}"):
        try:
            assert outward.web_address(url, outward.Reach()).scheme == "https"
        except outward.BadValue as refused:
            assert refused.field == "url"


def test_where_hosts_are_named_messages_go_to_them_alone() -> None:
    reach = outward.Reach.of(Settings(hooks_to="office.example, Desk.Example"))
    for url in ("https://office.example/x", "https://DESK.example:8443/x"):
        assert outward.web_address(url, reach).scheme == "https"
    for url in (
        "https://elsewhere.example/x",
        "https://office.example.elsewhere.example/x",
        "https://x.office.example",
    ):
        with pytest.raises(BadValue, match="cannot be sent to") as refused:
            outward.web_address(url, reach)
        assert "desk.example, office.example" in refused.value.remedy
    assert outward.Reach.of(Settings()) == outward.Reach()
