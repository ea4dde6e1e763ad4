"""Jobs worked on in any order of acts: the case that is answered is always the case that is kept."""

from __future__ import annotations

from typing import Any

from httpx import Response
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.service.app_fixtures import PART, PNG, READING, TEST, Floor, first_cause

ACTS = ("test", "reading", "part", "photo", "patch", "part result", "undo", "close", "reopen")
ANSWERS = {200, 201, 404, 409}


class Job:
    """A case on its way, with the last answer about it."""

    def __init__(self, floor: Floor) -> None:
        self.floor = floor
        self.case = floor.open_case()

    @property
    def path(self) -> str:
        """Where the case is."""
        return f"/cases/{self.case['id']}"

    def step_id(self, *kinds: str) -> str:
        """The last step of these kinds; the case's own id, which no step has, where there is none."""
        found = [step["id"] for kind in kinds for step in self.case[kind]]
        return str(found[-1] if found else self.case["id"])

    def do(self, act: str) -> Response:
        """One act, whether it can be done just now or not."""
        ask, path = self.floor.ask, self.path
        tag = {"If-Match": f'"{self.case["revision"]}"'}
        body: dict[str, Any] = {"cause": first_cause(self.floor.house), "correction": "replaced it"}
        acts = {
            "test": lambda: ask("POST", f"{path}/tests", json=TEST, headers=tag),
            "reading": lambda: ask("POST", f"{path}/readings", json=READING, headers=tag),
            "part": lambda: ask("POST", f"{path}/parts", json=PART, headers=tag),
            "photo": lambda: ask(
                "POST", f"{path}/photos", content=PNG, headers={"Content-Type": "image/png"}
            ),
            "patch": lambda: ask("PATCH", path, json={"title": "Washer", "codes": ["B1342"]}, headers=tag),
            "part result": lambda: ask(
                "PATCH", f"{path}/parts/{self.step_id('parts')}", json={"result": "cured"}
            ),
            "undo": lambda: ask("DELETE", f"{path}/steps/{self.step_id('tests', 'readings', 'parts')}"),
            "close": lambda: ask("POST", f"{path}/close", json=body, headers=tag),
            "reopen": lambda: ask("POST", f"{path}/reopen", json={"complaint": "same again"}),
        }
        return acts[act]()

    def check(self, answer: Response) -> None:
        """What was answered is kept, newer than before; what was refused changed nothing."""
        before = self.case
        if answer.is_success:
            self.case = answer.json()
            self.case.pop("alike", None)  # closing tells of other records of the visit beside the case
            assert answer.headers["etag"] == f'"{self.case["revision"]}"'
            assert self.case["revision"] >= before["revision"]
        assert self.floor.get(self.path).json() == self.case


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(acts=st.lists(st.sampled_from(ACTS), min_size=1, max_size=8))
def test_a_job_in_any_order_answers_what_it_keeps(floor: Floor, acts: list[str]) -> None:
    job = Job(floor)
    for act in acts:
        answer = job.do(act)
        assert answer.status_code in ANSWERS, (act, answer.text)
        job.check(answer)
    feed = floor.get(f"/changes?after={job.case['revision'] - 1}&limit=1").json()["changes"]
    assert [change["case"] for change in feed] == [job.case]
