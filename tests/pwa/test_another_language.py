"""The phone in Spanish: chosen on the shop screen, kept, spoken without signal, with its own figures."""

from __future__ import annotations

import re
from collections.abc import Callable

from handset import Handset
from past_cases import OFTEN, OFTEN_TIMES
from playwright.sync_api import Page, expect
from workshop import Workshop

Phone = Callable[..., Handset]
LANGUAGE = "document.documentElement.lang"


def choose_spanish(phone: Handset) -> None:
    """By the switch on the shop screen; everything the phone says changes at once."""
    phone.go("#/shop")
    switch = phone.page.get_by_role("group", name="Language")
    switch.get_by_role("button", name="Español").click()
    expect(phone.page.get_by_role("group", name="Idioma")).to_be_visible()
    phone.language = "es"


def write_twelve_and_a_half(phone: Handset) -> None:
    """A reading by the pad, whose point is a comma here."""
    phone.page.get_by_role("button", name=phone.says("advice.aReading"), exact=True).click()
    sheet = phone.page.locator("dialog[open]")
    sheet.get_by_label(phone.says("readingSheet.whatWasMeasured")).select_option("batt_rest")
    for key in ("1", "2", phone.says("ui.point"), "5"):
        sheet.get_by_role("button", name=key, exact=True).click()
    expect(sheet.locator("output")).to_have_text("12,5")
    sheet.get_by_role("button", name=phone.says("readingSheet.save"), exact=True).click()
    expect(phone.page.locator(".toast")).to_contain_text(phone.says("app.readingWrittenDown"))


def test_a_whole_job_in_spanish_then_a_start_without_signal(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    phone.ready_for_the_air(OFTEN_TIMES)
    choose_spanish(phone)
    phone.page.context.set_offline(True)
    complaint = f"{OFTEN[0]}, en la carretera"
    phone.ask(complaint)
    expect(phone.page.locator(".notice.warn").first).to_contain_text("la copia de este teléfono")
    phone.tap_outcome()
    write_twelve_and_a_half(phone)
    phone.close_as("clutch gap")
    phone.page.reload()
    expect(phone.page.locator("nav.bottom")).to_contain_text(phone.says("ui.shop"))
    assert phone.page.evaluate(LANGUAGE) == "es"
    phone.page.context.set_offline(False)
    phone.wait_until_sent()
    stored = workshop.cases_about(complaint)
    assert [(each["state"], each["readings"][0]["value"]) for each in stored] == [("closed", 12.5)]
    assert phone.complaints == []


def test_figures_and_typed_numbers_follow_the_language(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    choose_spanish(phone)
    complaint = "no arranca, un clic, dos mil doce"
    phone.ask(complaint)
    expect(phone.page.locator(".read-as", has_text="no arranca")).to_contain_text(phone.says("readAs.means"))
    phone.tap_outcome()
    case = phone.page.url.rpartition("/")[2]
    phone.go(f"#/case/{case}")
    phone.page.get_by_role("button", name=phone.says("caseFile.partTried")).click()
    sheet = phone.page.locator("dialog[open]")
    sheet.get_by_label(phone.says("partSheet.part"), exact=True).select_option("cooling.fan_module")
    sheet.get_by_label(phone.says("partSheet.price")).fill("1.248,50")
    sheet.get_by_role("button", name=phone.says("partSheet.saveThePart")).click()
    expect(phone.page.get_by_text(re.compile(r"1\.?248,50"))).to_be_visible()
    phone.wait_until_sent()
    assert [each["parts"][0]["price"] for each in workshop.cases_about(complaint)] == [1248.5]


def test_a_phone_set_to_spanish_greets_in_spanish_and_a_choice_overrules_it(
    new_page: Callable[..., Page], workshop: Workshop
) -> None:
    phone = Handset(new_page(locale="es-ES"), workshop.address, language="es")
    phone.join(workshop.link_for("technician"))
    assert phone.page.evaluate(LANGUAGE) == "es"
    phone.go("#/shop")
    phone.page.get_by_role("button", name="English").click()
    expect(phone.page.get_by_role("group", name="Language")).to_be_visible()
    phone.page.reload()
    expect(phone.page.get_by_role("group", name="Language")).to_be_visible()
    assert phone.page.evaluate(LANGUAGE) == "en"
