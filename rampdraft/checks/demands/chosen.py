"""Whether the rules of the place where the ramp is used are judged at all."""

from collections.abc import Iterator

from rampdraft.checks.result import Check, Demand, Subjects, Unjudged, compose
from rampdraft.words.say import say

_NONE_NAMED = (
    "No rule set is named, so only what is asked of every ramp is judged. Say under Use where it is used, and"
    " name the rules that hold there."
)


def rule_set_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield that no rules of the place are judged, where the design names none."""
    if not subjects.design.use.rule_sets:
        demand = Demand.own(
            "rule-sets", say("Rules of the place"), "is", "none", 1.0, say("those that hold there")
        )
        yield compose(demand, Unjudged(key="", subject="", why=say(_NONE_NAMED)))
