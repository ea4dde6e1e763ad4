"""The likely causes as a customer's words leave them: one name may stand for several complaints."""

from __future__ import annotations

import numpy as np

from baylore_kb.calls.which import WHICH
from baylore_kb.causes import Posterior
from baylore_kb.causes.beliefs import Beliefs, Floats
from baylore_kb.question import Question

RULED_OUT = 1e-8
VAGUE = 0.4


def likely_causes(question: Question, posterior: Posterior) -> Floats:
    """(C) shares of the listed causes, summing to 1.

    A symptom heard in the words with a chance below 1 may have been another of the same name ("won't start"
    is a click, silence, or an engine that turns): the rest of its chance, and at least four tenths where the
    words say no more than that name, goes to the causes of those. A tapped symptom is taken as it is.
    """
    beliefs = posterior.columns.beliefs
    listed = posterior.by_column()[: len(beliefs.causes)]
    listed = listed / listed.sum()
    if question.complaint.symptoms or not question.heard:
        return np.asarray(listed)
    best = question.heard[0]
    vague = any(best.symptom in wording.among and wording.vague(question.mended) for wording in WHICH)
    doubt = max(1.0 - best.chance, VAGUE if vague else 0.0)
    others = _others(best.symptom, beliefs)
    if not others:
        return np.asarray(listed)
    meant = np.mean([_causes_of(symptom, beliefs, listed) for symptom in others], axis=0)
    return np.asarray((1.0 - doubt) * listed + doubt * meant)


def _others(symptom: str, beliefs: Beliefs) -> list[str]:
    """The complaints that go by the same name as this one."""
    names = (wording.among for wording in WHICH if symptom in wording.among)
    return sorted(id for id in frozenset().union(*names) - {symptom} if id in beliefs.symptom_at)


def _causes_of(symptom: str, beliefs: Beliefs, listed: Floats) -> Floats:
    """(C) shares of the causes of one symptom, without those ruled out on this car."""
    shares = beliefs.weight * beliefs.shows[beliefs.symptom_at[symptom]] * (listed > RULED_OUT)
    return np.asarray(shares / shares.sum())
