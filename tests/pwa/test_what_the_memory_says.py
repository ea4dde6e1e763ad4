"""What the phone shows of the memory: questions for the call, the price, and famous failures that dropped."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from handset import Handset
from past_cases import OFTEN, OFTEN_TIMES
from playwright.sync_api import expect

Phone = Callable[..., Handset]


@pytest.fixture
def often(signed_in: Phone) -> Handset:
    """A phone that has asked about the fault that keeps coming."""
    phone = signed_in()
    phone.wait_for_copy(OFTEN_TIMES)
    phone.ask(OFTEN[0])
    return phone


def test_three_questions_at_most_are_put_for_the_call_one_at_a_time(signed_in: Phone) -> None:
    phone = signed_in()
    phone.page.get_by_label("What is wrong?").fill("won't start sometimes")
    call, asked = phone.page.locator("#call"), set()
    expect(call).to_be_visible(timeout=15_000)
    while call.count():
        question = call.locator(".slip-title").inner_text()
        asked.add(question)
        call.get_by_role("button").first.click()
        expect(call.get_by_text(question, exact=True)).to_have_count(0)
        phone.page.wait_for_timeout(2_000)
    assert 1 <= len(asked) <= 3


def test_an_answer_on_the_call_is_a_sign_or_a_condition_of_the_question(signed_in: Phone) -> None:
    phone = signed_in()
    phone.page.get_by_label("What is wrong?").fill("won't start sometimes")
    answer = phone.page.locator("#call").get_by_role("button").first
    expect(answer).to_be_visible(timeout=15_000)
    answer.click()
    taken = phone.page.get_by_role("list", name="Signs").get_by_role("button")
    condition = phone.page.get_by_role("group", name="It shows when").locator("[aria-pressed='true']")
    expect(taken.or_(condition).first).to_be_visible()


def test_the_price_of_such_jobs_can_be_read_aloud(often: Handset) -> None:
    often.settle_on_a_test()
    price = often.page.get_by_role("group", name="Price to say aloud")
    expect(price).to_contain_text(re.compile(r"The last \w+ such jobs came to \S+\d each\."))
    assert price.locator(".price").evaluate("each => parseFloat(getComputedStyle(each).fontSize)") >= 24


def test_the_famous_failure_drops_and_it_says_why(often: Handset) -> None:
    often.settle_on_a_test()
    often.page.get_by_role("button", name="Another test").click()
    often.page.get_by_label("Find a test").fill("command radiator fan")
    often.page.get_by_role("dialog").locator(".stub").first.click()
    often.page.get_by_role("dialog").get_by_role("button", name="Runs each speed").click()
    dropped = often.page.locator("#does-not-fit .dropped").first
    expect(dropped).to_contain_text(re.compile(r"fell from \d+\s% to .*: .*runs each speed"))


def test_what_each_result_would_mean_stands_under_the_fold(often: Handset) -> None:
    often.settle_on_a_test()
    meaning = often.page.get_by_role("list", name="What each result would mean")
    expect(meaning).not_to_be_visible()
    often.page.get_by_text("How, step by step").click()
    expect(meaning.get_by_text(re.compile(r"^\d+\s%$")).first).to_be_visible()
